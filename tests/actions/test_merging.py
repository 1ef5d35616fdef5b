"""Two logbooks become one."""

from datetime import UTC, datetime
from pathlib import Path

import pytest

from logbook.actions.exporting import export_lines
from logbook.actions.merging import bring_in, decide, other_logbook, questions, summary
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


def merge(store: Store, path: Path, side: merging.Side | None = None) -> merging.Merge:
    with other_logbook(store, path) as other:
        planned = merging.plan(store, other, side)
        bring_in(store, other, planned, "laptop.db")
    return planned


def note_of(store: Store) -> str | None:
    known = reading.get(store, Print, "shared")
    assert known is not None
    return known.note


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
    assert summary(again, store, store, "laptop.db") == ["laptop.db holds nothing that is not here already"]
    assert (list(export_lines(store)), journal.entries(store)) == (before, entries)


def test_a_change_made_in_sight_of_another_has_the_say_whatever_the_clock_says(pair: tuple[Store, Path]) -> None:
    store, path = pair
    journal.write(store, "Corrected", save=[a_print("shared", note="first")])
    with open_store(path) as laptop:
        merge(laptop, store.path)
        laptop.connection.execute("UPDATE journal_entry SET instant = 0")
        journal.write(laptop, "Corrected", save=[a_print("shared", note="in sight of the first")])
    assert merge(store, path).conflicts == ()
    assert note_of(store) == "in sight of the first"


def test_two_fields_of_one_print_changed_apart_are_both_kept(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Corrected", save=[a_print("shared", note="from the laptop")])
        journal.write(store, "Corrected", save=[a_print("shared", ink_ml=2.5, settings={"media": "rag"})])
        assert merge(store, path).conflicts == ()
        assert merge(laptop, store.path).conflicts == ()
        assert list(export_lines(store)) == list(export_lines(laptop))
    known = reading.get(store, Print, "shared")
    assert known is not None
    assert (known.note, known.ink_ml, known.settings) == ("from the laptop", 2.5, {"media": "rag"})


def test_one_field_changed_apart_stands_side_by_side_until_decided(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Corrected", save=[a_print("shared", note="from the laptop")])
        journal.write(store, "Corrected", save=[a_print("shared", note="from the desktop")])
        (conflict,) = merge(store, path).conflicts
        assert set(conflict.values) == {'"from the laptop"', '"from the desktop"'}
        (question,) = questions(store)
        assert question.record == "#0001 Ebb at Low Stair"
        assert {words for _, words in question.choices} == {"“from the laptop”", "“from the desktop”"}
        for value, note in (('"from the laptop"', "from the laptop"), ('"from the desktop"', "from the desktop")):
            decide(store, question, value)
            assert (note_of(store), questions(store)) == (note, [])
            journal.undo(store)
            assert questions(store) == [question]
        decide(store, question, '"from the laptop"')
        assert merge(laptop, store.path).conflicts == ()
        assert note_of(laptop) == "from the laptop"


@pytest.mark.parametrize(("side", "note"), [("ours", "from the desktop"), ("theirs", "from the laptop")])
def test_all_conflicts_are_decided_at_once_for_one_side(pair: tuple[Store, Path], side: merging.Side, note: str) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Corrected", save=[a_print("shared", note="from the laptop")])
        journal.write(store, "Corrected", save=[a_print("shared", note="from the desktop")])
        merge(store, path, side)
        assert (note_of(store), questions(store)) == (note, [])
        merge(laptop, store.path)
        assert (note_of(laptop), questions(laptop)) == (note, [])


@pytest.mark.parametrize(("side", "kept"), [("ours", True), ("theirs", False)])
def test_a_deletion_changed_elsewhere_is_decided_for_one_side_too(
    pair: tuple[Store, Path], side: merging.Side, kept: bool
) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Deleted", delete=[a_print("shared")])
        journal.write(store, "Corrected", save=[a_print("shared", note="still wanted")])
        merge(store, path, side)
        merge(laptop, store.path)
        for one in (store, laptop):
            assert ((reading.get(one, Print, "shared") is not None), questions(one)) == (kept, [])


def test_an_addition_that_was_undone_stays_undone(pair: tuple[Store, Path]) -> None:
    store, path = pair
    journal.write(store, "Logged", save=[a_print("mine")])
    with open_store(path) as laptop:
        merge(laptop, store.path)
        journal.undo(store)
        assert merge(store, path).is_nothing
        merge(laptop, store.path)
        assert reading.get(laptop, Print, "mine") is None


def test_a_newer_text_survives_a_stale_copy(pair: tuple[Store, Path]) -> None:
    store, path = pair
    journal.write(store, "Corrected", save=[a_print("shared", note="old")])
    with open_store(path) as laptop:
        merge(laptop, store.path)
    stale = path.with_name("stale.db")
    path.replace(stale)
    journal.write(store, "Corrected", save=[a_print("shared", note="new")])
    merge(store, stale)
    assert note_of(store) == "new"
    with open_store(stale) as laptop:
        merge(laptop, store.path)
        assert note_of(laptop) == "new"


def test_what_was_deleted_there_and_changed_here_is_asked(pair: tuple[Store, Path]) -> None:
    store, path = pair
    with open_store(path) as laptop:
        journal.write(laptop, "Deleted", delete=[a_print("shared")])
        journal.write(store, "Corrected", save=[a_print("shared", note="still wanted")])
        merge(store, path)
        merge(laptop, store.path)
        assert (note_of(store), note_of(laptop)) == ("still wanted", "still wanted")
        (question,) = questions(laptop)
        decide(laptop, question, "true")
        assert (note_of(laptop), questions(laptop)) == ("still wanted", [])
        journal.undo(laptop)
        decide(laptop, question, "false")
        assert (reading.get(laptop, Print, "shared"), questions(laptop)) == (None, [])
        merge(store, path)
        assert reading.get(store, Print, "shared") is None


def test_an_edition_number_given_on_both_sides_is_said(pair: tuple[Store, Path]) -> None:
    store, path = pair
    numbered = {"edition_number": 3, "edition_size": 10}
    with open_store(path) as laptop:
        journal.write(laptop, "Logged", save=[a_print("theirs", **numbered)])
    journal.write(store, "Logged", save=[a_print("mine", **numbered)])
    planned = merge(store, path)
    assert planned.editions_twice == (("ebb", 10, 3),)
    assert "number 3 of 10" in "".join(summary(planned, store, store, "laptop.db"))
    assert merge(store, path).editions_twice == ()


def test_numbers_of_logbooks_begun_apart_are_kept_and_said(store: Store, tmp_path: Path) -> None:
    for name in ("logbook.db", "other.db"):
        with open_store(tmp_path / name) as one:
            journal.write(one, "Set up", save=[PRINTER, PAPER, PICTURE, a_print(name)])
    planned = merge(store, tmp_path / "other.db")
    assert planned.numbers_twice == (1,)
    assert set(reading.numbers(store).values()) == {1}
    assert "Two prints bear #0001" in summary(planned, store, store, "other.db")


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
