"""Two logbooks become one."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from logbook.actions.exporting import export_lines
from logbook.actions.merging import bring_in, other_logbook, summary
from logbook.records import Judgement, Print
from logbook.records.refusal import Refused
from logbook.store import Store, journal, merging, open_store, reading, thumbnails
from tests.store.test_journal import PAPER, PICTURE, PRINTER, a_print

AT = datetime(2026, 11, 25, 15, 0, tzinfo=UTC)


@pytest.fixture
def pair(store: Store, tmp_path: Path) -> tuple[Store, Path]:
    """The desktop's logbook, and the path of a laptop's that started as its copy."""
    journal.write(store, "Set up", save=[PRINTER, PAPER, PICTURE, a_print("shared")])
    laptop = tmp_path / "laptop.db"
    from logbook.store.backup import back_up

    back_up(store, laptop)
    return store, laptop


def merge(store: Store, path: Path) -> merging.Merge:
    with other_logbook(store, path) as other:
        planned = merging.plan(store, other)
        bring_in(store, other, planned, "laptop.db")
    return planned


def test_both_sides_prints_are_there_with_the_numbers_they_had(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Logged", save=[a_print("theirs"), Judgement(id="j", print="theirs", at=AT, verdict="keep")])
        thumbnails.write(laptop, "ebb", b"small")
        theirs = reading.number_of(laptop, "theirs")
    journal.write(store, "Logged", save=[a_print("mine")])
    merge(store, path)
    assert theirs not in (1, 2)
    assert reading.numbers(store) == {"shared": 1, "mine": 2, "theirs": theirs}
    assert reading.count(store, Judgement) == 1
    assert thumbnails.read(store, "ebb") == b"small"


def test_merging_twice_changes_nothing(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Logged", save=[a_print("theirs"), a_print("shared", note="from the laptop")])
    journal.write(store, "Corrected", save=[a_print("shared", note="from the desktop")])
    merge(store, path)
    before, entries = list(export_lines(store)), journal.entries(store)
    again = merge(store, path)
    assert again.is_nothing
    assert summary(again, "laptop.db") == ["laptop.db holds nothing that is not here already"]
    assert (list(export_lines(store)), journal.entries(store)) == (before, entries)


@pytest.mark.parametrize("later", ["laptop", "desktop"])
def test_the_newest_change_wins_and_the_journal_keeps_both(pair: tuple[Store, Path], later: str) -> None:
    store, path = pair
    with open_store(path) as laptop:
        if later == "desktop":
            journal.write(laptop, "Corrected", save=[a_print("shared", note="from the laptop")])
        journal.write(store, "Corrected", save=[a_print("shared", note="from the desktop")])
        if later == "laptop":
            journal.write(laptop, "Corrected", save=[a_print("shared", note="from the laptop")])
    merge(store, path)
    won = reading.get(store, Print, "shared")
    assert won is not None
    assert won.note == f"from the {later}"
    told = "".join(f"{change.before}{change.after}" for change in journal.changes_of(store, won))
    assert "from the laptop" in told
    assert "from the desktop" in told


def test_a_later_deletion_wins_but_never_leaves_a_hole(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Deleted", delete=[a_print("shared")])
    merge(store, path)
    assert reading.count(store, Print) == 0
    assert merge(store, path).is_nothing


def test_what_was_deleted_here_since_does_not_come_back(pair: tuple[Store, Path]) -> None:
    store, path = pair
    journal.write(store, "Deleted", delete=[a_print("shared")])
    assert merge(store, path).is_nothing


def test_a_deletion_of_what_is_in_use_here_is_left_out(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Deleted", delete=[a_print("shared"), PICTURE])
    journal.write(store, "Logged", save=[a_print("mine")])
    merge(store, path)
    assert reading.get(store, type(PICTURE), "ebb") == PICTURE
    assert set(reading.numbers(store)) >= {"mine"}


def test_what_comes_in_brings_what_it_refers_to(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Logged", save=[a_print("theirs")])
    journal.write(store, "Deleted", delete=[a_print("shared"), PICTURE])
    merge(store, path)
    assert reading.get(store, type(PICTURE), "ebb") == PICTURE
    assert reading.get(store, Print, "theirs") is not None


def test_a_merge_is_undone_as_one(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Logged", save=[a_print("theirs"), a_print("shared", note="from the laptop")])
    before = list(export_lines(store))
    merge(store, path)
    after = list(export_lines(store))
    journal.undo(store)
    assert list(export_lines(store)) == before
    journal.redo(store)
    assert list(export_lines(store)) == after


def test_a_logbook_is_not_merged_with_itself(store: Store) -> None:
    with pytest.raises(Refused, match="is this logbook itself"), other_logbook(store, store.path):
        pass
