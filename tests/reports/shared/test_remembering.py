"""Remembered answers are the answers."""

from datetime import UTC, datetime

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.records import Judgement, Print
from logbook.reports.shared.remembering import remembered
from logbook.store import Store, journal, open_store, preferences, reading
from tests.store.test_journal import PAPER, PICTURE, PRINTER, a_print

AT = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)
asked: list[object] = []


def worked_out(store: Store, paper: str | None = None) -> tuple[object, ...]:
    """Everything an answer could depend on."""
    asked.append(paper)
    prints = [record for record in reading.every(store, Print) if paper in (None, record.paper)]
    return (tuple(map(repr, prints)), tuple(map(repr, reading.every(store, Judgement))), preferences.read(store, "away"))


answer = remembered(worked_out)


@pytest.fixture(autouse=True)
def _nothing_asked() -> None:
    asked.clear()


def test_the_same_question_is_worked_out_once_and_another_one_anew(store: Store) -> None:
    assert answer(store) == answer(store) == answer(store, paper=None)
    assert len(asked) == 2  # with and without the keyword
    answer(store, paper="rag")
    assert len(asked) == 3


def test_a_question_that_is_no_key_is_still_answered(store: Store) -> None:
    assert answer(store, paper=["rag"]) == worked_out(store, paper=["rag"])  # type: ignore[arg-type]


_steps = st.lists(st.sampled_from(["log", "judge", "delete", "undo", "redo", "away", "other", "ask"]), max_size=14)


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
            assert answer(store) == worked_out(store)


def _take(store: Store, other: Store, step: str, number: int) -> None:
    prints = reading.every(store, Print)
    if step in ("log", "other"):
        journal.write(other if step == "other" else store, "Logged", save=[a_print(f"p{number}")])
    elif step == "judge" and prints:
        journal.write(store, "Judged", save=[Judgement(id=f"j{number}", print=prints[-1].id, at=AT, darkness=-1)])
    elif step == "delete" and prints:
        journal.write(store, "Deleted", delete=[*reading.where(store, Judgement, "print", prints[0].id), prints[0]])
    elif step == "undo" and len([entry for entry in journal.entries(store, 99) if entry.state == "done"]) > 1:
        journal.undo(store)
    elif step == "redo":
        journal.redo(store)
    elif step == "away":
        preferences.write(store, "away", number)
