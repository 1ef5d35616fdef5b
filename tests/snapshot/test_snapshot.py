"""A snapshot is what the file holds, and what is kept of it is what asking anew would give."""

from datetime import UTC, datetime

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.analysis.month import paper_use
from logbook.records import Judgement, Paper, Print, Printer
from logbook.snapshot import Snapshot, answered, stock, take
from logbook.snapshot.snapshot import MOST_KEPT
from logbook.store import Store, journal, open_store, preferences, reading
from tests.store.test_journal import PAPER, PICTURE, PRINTER, a_print

AT = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
asked: list[object] = []


def worked_out(log: Snapshot, paper: str | None = None) -> tuple[object, ...]:
    """Everything an answer could depend on."""
    asked.append(paper)
    prints = [record for record in log.all(Print) if paper in (None, record.paper)]
    columns = (log.prints().id.tolist(), log.prints().verdict.tolist(), log.judgements.darkness.tolist())
    judgements = tuple(map(repr, log.all(Judgement)))
    return (tuple(map(repr, prints)), judgements, repr(columns), log.newest_print(), log.preference("away"), log.all(Paper))


answer = answered(worked_out)


@pytest.fixture(autouse=True)
def _nothing_asked() -> None:
    asked.clear()


def test_the_same_question_is_worked_out_once_and_another_one_anew(store: Store) -> None:
    assert answer(take(store)) == answer(take(store)) == answer(take(store), paper=None)
    assert len(asked) == 2  # with and without the keyword
    answer(take(store), paper="rag")
    assert len(asked) == 3


def test_a_question_that_is_no_key_is_still_answered(store: Store) -> None:
    assert answer(take(store), paper=["rag"]) == worked_out(take(store), paper=["rag"])  # type: ignore[arg-type]


STEPS = ["log", "judge", "delete", "undo", "undo there", "redo", "away", "other", "ask", "rename"]
_steps = st.lists(st.sampled_from(STEPS), max_size=14)


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=_steps)
def test_after_every_change_it_is_what_working_it_out_anew_gives(
    steps: list[str], tmp_path_factory: pytest.TempPathFactory
) -> None:
    path = tmp_path_factory.mktemp("remembered") / "logbook.db"
    with open_store(path) as store, open_store(path) as other:
        journal.write(store, "Set up", save=[PRINTER, PAPER, PICTURE])
        for number, step in enumerate(steps):
            _take(store, other, step, number)
            with open_store(path) as fresh:
                assert answer(take(store)) == worked_out(take(fresh)), step


def _take(store: Store, other: Store, step: str, number: int) -> None:
    prints = reading.every(store, Print)
    if step in ("log", "other"):
        journal.write(other if step == "other" else store, "Logged", save=[a_print(f"p{number}")])
    elif step == "judge" and prints:
        journal.write(store, "Judged", save=[Judgement(id=f"j{number}", print=prints[-1].id, at=AT, darkness=-1)])
    elif step == "delete" and prints:
        journal.write(store, "Deleted", delete=[*reading.where(store, Judgement, "print", prints[0].id), prints[0]])
    elif step in ("undo", "undo there") and len([entry for entry in journal.entries(store, 99) if entry.state == "done"]) > 1:
        journal.undo(other if step == "undo there" else store)
    elif step == "redo":
        journal.redo(store)
    elif step == "rename":
        journal.write(other, "Renamed", save=[msgspec.structs.replace(PAPER, name=f"rag {number}")])
    elif step == "away":
        preferences.write(store, "away", number)


def test_of_many_answers_those_not_asked_for_longest_go(store: Store) -> None:
    log = take(store)
    log.recall("asked for all the time", lambda: 1)
    for number in range(2 * MOST_KEPT):
        log.recall(number, lambda: 2)
        log.recall("asked for all the time", lambda: 3)
    assert take(store, log.day).recall("asked for all the time", lambda: 4) == 1
    assert take(store, log.day).recall(0, lambda: 5) == 5


def test_within_a_transaction_that_may_be_taken_back_nothing_is_kept(store: Store) -> None:
    with store.writing():
        assert take(store).recall("question", lambda: 1) == 1
    assert take(store).recall("question", lambda: 2) == 2


def test_a_part_is_read_anew_only_where_its_kind_changed(store: Store) -> None:
    journal.write(store, "Set up", save=[PRINTER, PAPER, PICTURE])
    before = take(store)
    papers, printers = before.all(Paper), before.all(Printer)
    journal.write(store, "Renamed", save=[msgspec.structs.replace(PAPER, name="another name")])
    after = take(store)
    assert after.all(Printer) is printers
    assert [paper.name for paper in after.all(Paper)] == ["another name"] != [paper.name for paper in papers]


@given(
    width_mm=st.floats(50, 1500), height_mm=st.floats(50, 1500), border_mm=st.sampled_from([0.0, 15.0, 25.4]),
    roll_mm=st.sampled_from([432.0, 609.6, 1118.0]),
)  # fmt: skip
def test_one_print_takes_of_the_roll_what_the_month_counts_for_it(
    width_mm: float, height_mm: float, border_mm: float, roll_mm: float
) -> None:
    (counted,) = paper_use.from_roll(width_mm, height_mm, border_mm, roll_mm).length_mm
    assert stock.length_used_mm(width_mm, height_mm, border_mm, roll_mm) == pytest.approx(counted)
