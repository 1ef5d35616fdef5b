"""Every change through the journal: undo, redo, refusals, references."""

from datetime import UTC, datetime
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.actions.exporting import export_lines
from logbook.records import Ink, Judgement, Light, Paper, Picture, Print, Printer, Record
from logbook.records.refusal import Refused
from logbook.store import Store, StoreRefused, bulk, history, journal, open_store, reading

AT = datetime(2026, 11, 25, 14, 0, tzinfo=UTC)
PRINTER = Printer(id="one", name="Bench one", max_width_mm=610, inks=(Ink(ink="cyan", nominal_ml=80),), gauge_step_percent=1)
PAPER = Paper(id="rag", name="Tideway Rag", finish="matte", black="matte")
PICTURE = Picture(id="ebb", title="Ebb at Low Stair")


def a_print(id: str, **fields: object) -> Print:
    known = {"at": AT, "printer": "one", "paper": "rag", "picture": "ebb", "width_mm": 400, "height_mm": 500, "settings": {}}
    return Print(id=id, **(known | fields))  # type: ignore[arg-type]


@pytest.fixture
def bench(store: Store) -> Store:
    journal.write(store, "Set up", save=[PRINTER, PAPER, PICTURE])
    return store


def everything(store: Store) -> list[str]:
    return [*export_lines(store), *(str(line) for line in history.page(store, limit=1000))]


def test_a_save_an_edit_and_a_deletion_are_undone_and_redone_also_after_a_restart(bench: Store) -> None:
    states = [everything(bench)]
    journal.write(bench, "Print logged", save=[a_print("a")])
    states.append(everything(bench))
    journal.write(bench, "Print corrected", save=[a_print("a", note="deeper")])
    states.append(everything(bench))
    journal.write(bench, "Print deleted", delete=[a_print("a")])
    states.append(everything(bench))
    bench.close()
    with open_store(bench.path) as again:
        for state in reversed(states[:-1]):
            journal.undo(again)
            assert everything(again) == state
        for state in states[1:]:
            journal.redo(again)
            assert everything(again) == state
        assert journal.redo(again) is None


def test_a_new_change_ends_redo_but_loses_nothing(bench: Store) -> None:
    journal.write(bench, "Print logged", save=[a_print("a", note="the first")])
    journal.undo(bench)
    journal.write(bench, "Print logged", save=[a_print("b")])
    assert journal.redo(bench) is None
    (change,) = journal.changes_of(bench, a_print("a"))
    assert change.after is not None
    assert "the first" in change.after


def test_undo_with_nothing_to_undo_says_so(store: Store) -> None:
    assert journal.undo(store) is None


def test_saving_what_is_there_makes_no_entry(bench: Store) -> None:
    entries = journal.entries(bench)
    assert journal.write(bench, "Paper saved", save=[PAPER]).state == "nothing"
    assert journal.entries(bench) == entries


def test_what_others_use_is_not_deleted_and_the_count_is_said(bench: Store) -> None:
    journal.write(bench, "Logged", save=[a_print("a"), a_print("b")])
    before = everything(bench)
    for record in (PAPER, PICTURE):
        with pytest.raises(StoreRefused, match="is used by 2 prints; it was not deleted"):
            journal.write(bench, "Deleted", delete=[record])
    assert everything(bench) == before


def test_a_deletion_takes_what_hangs_on_it_when_told_to(bench: Store) -> None:
    judged = Judgement(id="j", print="a", at=AT, verdict="keep")
    journal.write(bench, "Logged", save=[a_print("a"), judged])
    before = everything(bench)
    journal.write(bench, "Deleted", delete=[judged, a_print("a")])
    assert reading.count(bench, Print) == 0
    journal.undo(bench)
    assert everything(bench) == before


@pytest.mark.parametrize(
    ("record", "fault"),
    [
        (a_print("c", paper="none"), "paper: there is no paper 'none'"),
        (a_print("a", attempt_of="b"), "attempt_of: the attempts would go in a circle"),
        (a_print("c", width_mm=-1), "width_mm: must be a number above 0"),
        (Light(id="w", name="Window\x1b[2J"), "name: holds a control character"),
    ],
)
def test_a_bad_record_is_refused_and_nothing_of_its_entry_stays(bench: Store, record: Record, fault: str) -> None:
    journal.write(bench, "Logged", save=[a_print("a"), a_print("b", attempt_of="a")])
    before = everything(bench)
    with pytest.raises(Refused, match=fault.replace("(", r"\(")):
        journal.write(bench, "Logged", save=[a_print("fine"), record])
    assert everything(bench) == before


def test_numbers_are_never_given_twice(bench: Store) -> None:
    journal.write(bench, "Logged", save=[a_print("a")])
    journal.write(bench, "Deleted", delete=[a_print("a")])
    journal.write(bench, "Logged", save=[a_print("b")])
    assert reading.number_of(bench, "b") == 2
    assert reading.ids_with_number(bench, 1) == []


def test_a_print_that_comes_back_uses_up_no_number(bench: Store) -> None:
    journal.write(bench, "Logged", save=[a_print("a")])
    for _ in range(3):
        journal.undo(bench)
        journal.redo(bench)
    journal.write(bench, "Deleted", delete=[a_print("a")])
    bulk.add(bench, "Imported", [a_print("a")])
    journal.write(bench, "Logged", save=[a_print("b")])
    assert [reading.number_of(bench, id) for id in ("a", "b")] == [1, 2]


def test_the_line_of_a_print_follows_its_paper_picture_and_judgements(bench: Store) -> None:
    journal.write(bench, "Logged", save=[a_print("a"), a_print("b", attempt_of="a")])
    journal.write(bench, "Renamed", save=[Paper(id="rag", name="Quay Cotton", finish="matte", black="matte")])
    journal.write(bench, "Judged", save=[Judgement(id="j", print="b", at=AT, verdict="redo", darkness=-2, flaws=("banding",))])
    for words in ("quay", "#0002", "redo band", "EBB", "2"):
        assert "b" in {line.id for line in history.page(bench, words)}, words
    assert history.page(bench, "tideway") == []
    (line,) = history.page(bench, "redo")
    assert (line.verdict, line.darkness, line.attempt, line.judged) == ("redo", -2, 2, True)
    journal.write(bench, "Unjudged", delete=[Judgement(id="j", print="b", at=AT)])
    assert history.page(bench, "redo") == []


_steps = st.lists(
    st.tuples(st.sampled_from(["save", "delete", "undo", "redo"]), st.integers(0, 3), st.integers(-6, 6)), max_size=12
)


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(steps=_steps)
def test_undoing_everything_leads_back_and_redoing_it_returns(
    steps: list[tuple[str, int, int]], tmp_path_factory: pytest.TempPathFactory
) -> None:
    with open_store(tmp_path_factory.mktemp("steps") / "logbook.db") as store:
        journal.write(store, "Set up", save=[PRINTER, PAPER, PICTURE])
        start = everything(store)
        for step, which, darkness in steps:
            _take(store, step, f"p{which}", darkness)
        end = everything(store)
        undone = 0
        while len([entry for entry in journal.entries(store, 99) if entry.state == "done"]) > 1:
            journal.undo(store)
            undone += 1
        assert everything(store) == start
        for _ in range(undone):
            journal.redo(store)
        assert everything(store) == end


def _take(store: Store, step: str, id: str, darkness: int) -> None:
    judgements = reading.where(store, Judgement, "print", id)
    if step == "save":
        judged = Judgement(id=f"j{id}", print=id, at=AT, darkness=darkness)
        journal.write(store, "Saved", save=[a_print(id, note=str(darkness)), judged])
    elif step == "delete" and reading.get(store, Print, id) is not None:
        journal.write(store, "Deleted", delete=[*judgements, a_print(id)])
    elif step == "undo" and len(journal.entries(store)) > 1:
        if next(entry for entry in journal.entries(store, 99) if entry.state == "done").entry > 1:
            journal.undo(store)
    elif step == "redo":
        journal.redo(store)


def test_two_stores_on_one_file_see_each_other(bench: Store, tmp_path: Path) -> None:
    with open_store(bench.path) as other:
        version = bench.version()
        journal.write(other, "Logged", save=[a_print("theirs")])
        assert bench.version() != version
        journal.write(bench, "Logged", save=[a_print("mine")])
        assert {line.id for line in history.page(other)} == {"mine", "theirs"}
