"""Opening files: new, old, newer, foreign, damaged, locked."""

import os
import sqlite3
import stat
from pathlib import Path

import pytest

from logbook.records import Paper
from logbook.store import InUse, StoreRefused, journal, migrating, open_store, opening, reading

PAPER = Paper(id="rag", name="Tideway Rag", finish="matte", black="matte")


def test_a_new_file_is_for_its_owner_alone_and_keeps_its_promises(tmp_path: Path) -> None:
    path = tmp_path / "deep" / "logbook.db"
    with open_store(path) as store:
        journal.write(store, "Saved", save=[PAPER])
        for file in path.parent.iterdir():
            assert stat.S_IMODE(file.stat().st_mode) == 0o600, file
        for pragma, value in (("journal_mode", "wal"), ("synchronous", 2), ("foreign_keys", 1)):
            assert store.connection.execute(f"PRAGMA {pragma}").fetchone() == (value,)
        strict = store.connection.execute("SELECT name, strict FROM pragma_table_list WHERE type = 'table' AND schema = 'main'")
        assert [
            name for name, is_strict in strict if not is_strict and not name.startswith(("sqlite_", "_sqlite", "print_words"))
        ] == []


def test_a_missing_file_is_said_where_none_is_to_be_made(tmp_path: Path) -> None:
    with pytest.raises(StoreRefused, match="does not exist"):
        open_store(tmp_path / "none.db", create=False)
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "content", [b"not a database, but long enough to be looked at" * 100, b"SQLite format 3\x00" + b"\xff" * 4000]
)
def test_a_file_that_is_no_database_is_refused_unchanged(tmp_path: Path, content: bytes) -> None:
    path = tmp_path / "logbook.db"
    path.write_bytes(content)
    with pytest.raises(StoreRefused) as caught:
        open_store(path)
    assert "\n" not in str(caught.value)
    assert path.read_bytes() == content


def test_another_programs_database_is_refused_unchanged(tmp_path: Path) -> None:
    path = tmp_path / "logbook.db"
    with sqlite3.connect(path) as other:
        other.execute("CREATE TABLE accounts (name TEXT)")
    other.close()
    before = path.read_bytes()
    with pytest.raises(StoreRefused, match="not a logbook; it was left as it is"):
        open_store(path)
    assert path.read_bytes() == before


def scripts(folder: Path, *later: str) -> Path:
    for script in migrating.folder().glob("*.sql"):
        (folder / script.name).write_text(script.read_text(encoding="utf-8"), encoding="utf-8")
    for number, sql in enumerate(later):
        (folder / f"90{number:02d}_later.sql").write_text(sql, encoding="utf-8")
    return folder


def test_a_newer_file_is_refused_unchanged(tmp_path: Path) -> None:
    (tmp_path / "newer").mkdir()
    newer = migrating.migrations(scripts(tmp_path / "newer", "CREATE TABLE later (a TEXT) STRICT;"))
    path = tmp_path / "logbook.db"
    open_store(path, known=newer).close()
    before = path.read_bytes()
    with pytest.raises(StoreRefused, match="written by a newer program"):
        open_store(path)
    assert path.read_bytes() == before


def test_an_older_file_is_copied_then_migrated(tmp_path: Path) -> None:
    (tmp_path / "newer").mkdir()
    path = tmp_path / "logbook.db"
    with open_store(path) as store:
        journal.write(store, "Saved", save=[PAPER])
    newer = migrating.migrations(scripts(tmp_path / "newer", "CREATE TABLE later (a TEXT) STRICT;"))
    with open_store(path, known=newer) as store:
        assert reading.get(store, Paper, "rag") == PAPER
    copy = path.with_name("logbook.db.before-9000_later")
    assert stat.S_IMODE(copy.stat().st_mode) == 0o600
    with open_store(copy) as store:
        assert reading.get(store, Paper, "rag") == PAPER


def test_a_migration_that_fails_half_way_leaves_the_file_as_it_was(tmp_path: Path) -> None:
    (tmp_path / "bad").mkdir()
    path = tmp_path / "logbook.db"
    with open_store(path) as store:
        journal.write(store, "Saved", save=[PAPER])
    bad = migrating.migrations(
        scripts(tmp_path / "bad", "CREATE TABLE later (a TEXT) STRICT; DELETE FROM paper; DELETE FROM nothing;")
    )
    with pytest.raises(StoreRefused):
        open_store(path, known=bad)
    with open_store(path) as store:
        assert reading.get(store, Paper, "rag") == PAPER
        assert store.connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'later'").fetchone() is None


def test_every_migration_is_named_and_numbered_once() -> None:
    names = [script.name for script in sorted(migrating.folder().glob("*.sql"))]
    assert [int(name[:4]) for name in names] == list(range(1, len(names) + 1))


def test_a_locked_file_is_waited_for_then_said(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "logbook.db"
    open_store(path).close()
    monkeypatch.setattr(opening, "WAIT_SECONDS", 0.1)
    with open_store(path) as store:
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        with pytest.raises(InUse, match="in use by another program"):
            journal.write(store, "Saved", save=[PAPER])
        other.execute("ROLLBACK")
        other.close()
        journal.write(store, "Saved", save=[PAPER])


def test_a_device_is_no_logbook_and_keeps_its_mode(tmp_path: Path) -> None:
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe, 0o644)
    mode = pipe.stat().st_mode
    with pytest.raises(StoreRefused, match="is a device"):
        open_store(pipe)
    assert pipe.stat().st_mode == mode


def test_a_folder_is_no_logbook(tmp_path: Path) -> None:
    with pytest.raises(StoreRefused, match="is a folder"):
        open_store(tmp_path)
