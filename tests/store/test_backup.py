"""Backups: dated, verified, thinned out, restored; damage found and named."""

import shutil
import stat
from datetime import date, timedelta
from pathlib import Path

import pytest

from logbook.records import Paper
from logbook.store import Store, StoreRefused, backup, journal, open_store, reading
from logbook.store.checking import check_file

PAPER = Paper(id="rag", name="Tideway Rag", finish="matte", black="matte")
TODAY = date(2026, 11, 25)


@pytest.fixture
def filled(store: Store) -> Store:
    journal.write(store, "Saved", save=[PAPER])
    return store


def test_the_first_start_of_a_day_makes_one_dated_backup(filled: Store) -> None:
    made = backup.back_up_today(filled, TODAY)
    assert made is not None
    assert made.name == "logbook-2026-11-25.db"
    assert stat.S_IMODE(made.stat().st_mode) == 0o600
    assert check_file(made) == []
    assert backup.back_up_today(filled, TODAY) is None


def test_seven_days_are_kept_and_then_one_a_month_for_a_year(filled: Store) -> None:
    for days in range(500, -1, -1):
        day = TODAY - timedelta(days=days)
        target = backup.folder_of(filled.path) / f"logbook-{day.isoformat()}.db"
        target.parent.mkdir(exist_ok=True)
        target.touch()
        for old in backup.superfluous(backup.dated(filled.path)):
            old.unlink()
    kept = sorted(backup.dated(filled.path))
    assert kept[-7:] == [TODAY - timedelta(days=days) for days in range(6, -1, -1)]
    assert [day for day in kept if day < TODAY - timedelta(days=6)] == [
        date(2025, 12, 1),
        *(date(2026, month, 1) for month in range(1, 12)),
    ]


def test_a_copy_opens_as_the_same_logbook(filled: Store, tmp_path: Path) -> None:
    made = backup.back_up(filled, tmp_path / "copy.db")
    with open_store(made) as copy:
        assert reading.get(copy, Paper, "rag") == PAPER


def test_the_logbook_is_not_its_own_backup(filled: Store) -> None:
    with pytest.raises(StoreRefused, match="is the logbook itself"):
        backup.back_up(filled, filled.path)


def test_a_backup_replaces_an_older_one_only_when_told_and_nothing_else_ever(filled: Store, tmp_path: Path) -> None:
    made, letter, link = backup.back_up(filled, tmp_path / "copy.db"), tmp_path / "letter.db", tmp_path / "link.db"
    letter.write_text("dear diary")
    link.symlink_to(made)
    with pytest.raises(StoreRefused, match="--replace"):
        backup.back_up(filled, made)
    backup.back_up(filled, made, replace=True)
    for other in (letter, link):
        with pytest.raises(StoreRefused, match="is no backup"):
            backup.back_up(filled, other, replace=True)
    assert letter.read_text() == "dear diary"
    assert link.is_symlink()


def test_restoring_keeps_what_is_there_first_even_while_the_file_is_open(filled: Store, tmp_path: Path) -> None:
    made = backup.back_up(filled, tmp_path / "copy.db")
    journal.write(filled, "Deleted", delete=[PAPER])
    kept = backup.restore(filled.path, made, TODAY)
    assert reading.get(filled, Paper, "rag") == PAPER
    assert kept is not None
    with open_store(kept) as before:
        assert reading.count(before, Paper) == 0


def test_a_damaged_backup_is_refused_and_changes_nothing(filled: Store, tmp_path: Path) -> None:
    bad = tmp_path / "bad.db"
    bad.write_bytes(b"SQLite format 3\x00" + b"\x07" * 5000)
    with pytest.raises(StoreRefused, match="was not restored"):
        backup.restore(filled.path, bad, TODAY)
    assert reading.get(filled, Paper, "rag") == PAPER


def test_a_damaged_logbook_is_kept_whole_and_replaced(filled: Store, tmp_path: Path) -> None:
    made = backup.back_up(filled, tmp_path / "copy.db")
    filled.close()
    damaged = bytearray(filled.path.read_bytes())
    damaged[:100] = b"\xaa" * 100
    filled.path.write_bytes(bytes(damaged))
    kept = backup.restore(filled.path, made, TODAY)
    assert kept is not None
    assert kept.read_bytes() == bytes(damaged)
    with open_store(filled.path) as again:
        assert reading.get(again, Paper, "rag") == PAPER


def test_a_flipped_byte_in_any_page_is_found_or_harmless(demo_path: Path, tmp_path: Path) -> None:
    """Every page class is hit: header, tables, indexes, the full-text index, free space."""
    sound = tmp_path / "sound.db"
    with open_store(demo_path) as demo:
        backup.back_up(demo, sound)
    original = sound.read_bytes()
    page, found = 4096, 0
    pages = range(0, len(original) // page, max(1, len(original) // page // 25))
    for number in pages:
        damaged = bytearray(original)
        damaged[number * page : number * page + 12] = bytes(255 - byte for byte in damaged[number * page : number * page + 12])
        broken = tmp_path / "broken.db"
        broken.write_bytes(bytes(damaged))
        found += bool(check_file(broken))
    assert found == len(pages)
    shutil.rmtree(tmp_path, ignore_errors=True)


def test_what_stood_there_is_kept_under_a_number_of_its_own_each_time(filled: Store, tmp_path: Path) -> None:
    copy = backup.back_up(filled, tmp_path / "copy.db")
    filled.close()
    kept = [backup.restore(filled.path, copy, TODAY) for _ in range(3)]
    assert [one.name for one in kept if one] == [f"logbook-before-restore-2026-11-25-{number}.db" for number in (1, 2, 3)]
