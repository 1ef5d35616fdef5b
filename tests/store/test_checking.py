"""A check calls sound only what is: the shape of the file, the journal's seals, and every record by its journal."""

import shutil
import sqlite3
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest

from logbook.actions.exporting import export_lines
from logbook.records import Print
from logbook.store import StoreRefused, backup, columns, history, journal, open_store, reading, replaying
from logbook.store.checking import check_file
from logbook.store.refusals import in_plain_words
from tests.studio import MORNING, furnish, sheet


@pytest.fixture(scope="module")
def sound(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A closed logbook with some prints, one of them edited, one deleted, one undone."""
    path = tmp_path_factory.mktemp("sound") / "logbook.db"
    with open_store(path) as store:
        furnish(store)
        for number in range(12):
            journal.write(store, "Logged", save=[sheet(f"print-{number}", hours=number, note=f"note {number}")])
        journal.write(store, "Corrected", save=[sheet("print-1", note="another")])
        journal.write(store, "Deleted", delete=[sheet("print-2")])
        journal.undo(store)
        journal.write(store, "Deleted", delete=[sheet("print-3")])
        return backup.back_up(store, path.with_name("sound.db"))


@pytest.fixture
def copy(sound: Path, tmp_path: Path) -> Path:
    return Path(shutil.copy(sound, tmp_path / "logbook.db"))


def spoil(path: Path, *statements: str) -> None:
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        for statement in statements:
            connection.execute(statement)


def test_what_was_edited_deleted_and_undone_is_sound(copy: Path) -> None:
    assert check_file(copy) == []


@pytest.mark.parametrize(
    ("statements", "said"),
    [
        (["DROP TABLE journal_change"], "the table 'journal_change' is missing"),
        (["DROP INDEX print_paper"], "the index 'print_paper' is missing"),
        (["CREATE TABLE mine (x)"], "came with a table 'mine'"),
        (["UPDATE sqlite_master SET sql = replace(sql, 'width_mm > 0', 'width_mm > -9')"], "'print' is not as"),
        (["CREATE TRIGGER t AFTER INSERT ON _sqlite_migrations BEGIN SELECT 1; END"], "came with a trigger 't'"),
        (["UPDATE print SET width_mm = 301 WHERE id = 'print-5'"], "print 'print-5' says something else than the journal"),
        (["DELETE FROM print WHERE id = 'print-6'"], "print 'print-6' is gone"),
        (["UPDATE journal_change SET after = replace(after, 'note 7', 'note 8') WHERE id = 'print-7'"], "what was sealed"),
        (["UPDATE journal_entry SET said = 'Something' WHERE entry = 3"], "entry 3 of the journal"),
        (["UPDATE print SET number = 99 WHERE id = 'print-4'"], "print 'print-4' says something else"),
    ],
)  # fmt: skip
def test_every_difference_is_named_and_nothing_is_restored_from_it(
    copy: Path, tmp_path: Path, statements: list[str], said: str
) -> None:
    spoil(copy, *statements)
    assert any(said in fault for fault in check_file(copy)), check_file(copy)
    with pytest.raises(StoreRefused, match="was not restored"):
        backup.restore(tmp_path / "other.db", copy, MORNING.date())
    assert not (tmp_path / "other.db").exists()


def test_a_damaged_cell_is_said_by_whatever_reads_it(copy: Path) -> None:
    spoil(copy, "PRAGMA ignore_check_constraints = ON", "UPDATE print SET settings = '{' WHERE id = 'print-4'")
    assert check_file(copy)
    with open_store(copy, migrate=False) as store:
        for read in (partial(reading.every, kind=Print), columns.prints, history.page):
            with pytest.raises(StoreRefused, match=r"damaged|can't be read"), in_plain_words(copy):
                read(store)


def test_a_view_without_end_is_refused_before_it_runs(copy: Path) -> None:
    endless = "WITH RECURSIVE n (x) AS (SELECT 1 UNION ALL SELECT x + 1 FROM n) SELECT x AS id FROM n"
    spoil(copy, "DROP TABLE preference", f"CREATE VIEW preference AS {endless}")
    assert any("came with a view 'preference'" in fault for fault in check_file(copy))
    with pytest.raises(StoreRefused, match="came with a view"):
        open_store(copy)


def test_the_journal_makes_the_logbook_anew_and_says_what_differs(copy: Path, sound: Path, tmp_path: Path) -> None:
    spoil(
        copy,
        "DROP TABLE print_words",
        "UPDATE print SET width_mm = 301 WHERE id = 'print-5'",
        "PRAGMA foreign_keys = OFF",
        "DELETE FROM print WHERE id = 'print-6'",
    )
    made = tmp_path / "made.db"
    told = replaying.recover(copy, made)
    assert [line.split(":")[0] for line in told] == ["print 'print-5'", "print 'print-6'"]
    assert check_file(made) == []
    with open_store(made) as again, open_store(sound) as before:
        assert list(export_lines(again)) == list(export_lines(before))
        assert journal.undo(again) is not None  # the journal came too
        assert list(export_lines(again)) != list(export_lines(before))


def test_what_the_journal_cannot_say_is_taken_from_the_records(copy: Path, tmp_path: Path) -> None:
    spoil(copy, "DELETE FROM journal_change WHERE id = 'print-7'", "UPDATE journal_change SET after = '[]' WHERE id = 'print-8'")
    made = tmp_path / "made.db"
    told = replaying.recover(copy, made)
    assert [("print-7" in line, "print-8" in line) for line in sorted(told)] == [(True, False), (False, True)]
    assert check_file(made) == []
    with open_store(made) as again, open_store(copy) as before:
        assert list(export_lines(again)) == list(export_lines(before))


def test_what_is_no_database_is_refused(tmp_path: Path) -> None:
    (tmp_path / "letter.db").write_text("dear diary\n" * 900)
    with pytest.raises(StoreRefused, match="nothing can be read"):
        replaying.recover(tmp_path / "letter.db", tmp_path / "made.db")
    assert not (tmp_path / "made.db").exists()
