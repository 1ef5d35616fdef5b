"""The screen beside another program on the same file, on a locked file, and on a folder that went away."""

from __future__ import annotations

import asyncio
import sqlite3
from pathlib import Path

import pytest

from logbook.records import Light, Paper, Print
from logbook.store import backup, journal, open_store, reading
from logbook.store.checking import check_file
from logbook.tui.forms.form import Form
from tests.studio import print_out, sheet, with_a_print
from tests.tui.conftest import NOW, Opened
from tests.tui.forms.test_form import LightForm, field
from tests.tui.screens import app_of, press, settled, shown


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A furnished logbook with one print of the day."""
    return with_a_print(tmp_path / "logbook.db")


async def test_what_another_program_logs_comes_to_the_screen(opened: Opened, path: Path) -> None:
    async with opened(path) as pilot:
        await pilot.pause(0.6)  # the program has looked once, and knows where the other starts
        with open_store(path) as other:
            print_out(other, sheet("theirs", hours=1, picture="groyne"))
        while "Winter Groyne" not in shown(pilot):
            await pilot.pause(0.02)


async def test_a_locked_file_is_said_and_the_form_stays_filled(opened: Opened, path: Path) -> None:
    async with opened(path) as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"lamp", "tab", *"480")
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN EXCLUSIVE")
        await press(pilot, "enter")
        assert "in use by another program, and waited for" in shown(pilot)
        for thread in (app_of(pilot).desk, app_of(pilot).study):
            (waits_ms,) = await thread.run(lambda store: store.connection.execute("PRAGMA busy_timeout").fetchone())
            assert waits_ms < 500
        await press(pilot, "f1")
        assert "with one field of every sort" in shown(pilot)
        await press(pilot, "escape")
        await press(pilot, "escape")  # it can't be kept now, so it is not left either
        assert isinstance(app_of(pilot).screen, Form)
        assert (field(pilot, "name").value, field(pilot, "illuminance_lx").value) == ("lamp", 480)
        other.execute("ROLLBACK")
        other.close()
        await press(pilot, "enter")
        assert "Light lamp noted" in shown(pilot)
    with open_store(path) as store:
        assert [light.name for light in reading.every(store, Light)] == ["window wall", "lamp"]


async def test_a_form_can_be_given_up_while_the_file_is_locked(opened: Opened, path: Path) -> None:
    async with opened(path) as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"lamp")
        other = sqlite3.connect(path, isolation_level=None)
        other.execute("BEGIN IMMEDIATE")
        await press(pilot, "f9")
        assert not isinstance(app_of(pilot).screen, Form)
        other.execute("ROLLBACK")
        other.close()


async def test_a_folder_that_went_away_is_said_and_comes_back_with_nothing_lost(opened: Opened, path: Path) -> None:
    folder = path.parent / "network"
    folder.mkdir()
    path = path.rename(folder / path.name)
    async with opened(path) as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"lamp")
        away = folder.rename(folder.with_name("away"))
        # When it happens, not only at the next save: by the look at the file, or by what keeps the half-filled form.
        while not any(words in shown(pilot) for words in ("moved, replaced or taken away", "the file is not there")):
            await pilot.pause(0.05)
        await press(pilot, "enter")
        assert "the file is not there" in shown(pilot)
        assert field(pilot, "name").value == "lamp"
        assert not path.exists(), "no empty logbook stands in the place of the lost one"
        away.rename(folder)
        await press(pilot, "enter")
        assert "Light lamp noted" in shown(pilot)
    with open_store(path) as store:
        assert "lamp" in [light.name for light in reading.every(store, Light)]


async def test_a_logbook_replaced_by_a_backup_is_opened_again(opened: Opened, path: Path) -> None:
    with open_store(path) as store:
        copy = backup.back_up(store, path.with_name("copy.db"))
        print_out(store, sheet("after", hours=1))
    async with opened(path) as pilot:
        copy.replace(path)
        for beside in ("-wal", "-shm"):
            path.with_name(path.name + beside).unlink(missing_ok=True)
        await pilot.pause(1.2)
        await settled(pilot)
        assert await app_of(pilot).desk.run(lambda store: reading.count(store, Print)) == 1
        await press(pilot, "u")
        assert "Undone" in shown(pilot)


async def test_damage_met_while_reading_is_said_and_does_not_end_the_program(opened: Opened, path: Path) -> None:
    with open_store(path) as store:
        (root,) = store.connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'paper'").fetchone()
    content = bytearray(path.read_bytes())
    content[4096 * (root - 1) : 4096 * (root - 1) + 100] = b"\xff" * 100
    path.write_bytes(bytes(content))
    async with opened(path, size=(160, 24)) as pilot:
        assert "is damaged" in shown(pilot)
        assert "`logbook check` says more" in shown(pilot)
        assert app_of(pilot).is_running


async def test_the_first_start_of_a_day_makes_the_dated_backup(opened: Opened, path: Path) -> None:
    made = backup.folder_of(path) / f"logbook-{NOW.date()}.db"
    async with opened(path) as pilot:
        await _until_there(made)
        assert check_file(made) == []
        await app_of(pilot).desk.run(
            lambda store: journal.write(store, "Paper", save=[Paper(id="x", name="x", finish="", black="matte")])
        )
    at = made.stat().st_mtime_ns
    async with opened(path):
        await asyncio.sleep(0.1)
    assert made.stat().st_mtime_ns == at
    assert [file.name for file in made.parent.iterdir()] == [made.name]


async def test_a_backup_that_can_not_be_made_is_said(opened: Opened, path: Path) -> None:
    path.with_name("backups").write_text("a file where the folder would be", encoding="utf-8")
    async with opened(path, size=(160, 24)) as pilot:
        await pilot.pause(0.3)
        await app_of(pilot).workers.wait_for_complete([worker for worker in app_of(pilot).workers if worker.group == "store"])
        await pilot.pause()
        assert "No backup today" in shown(pilot)


async def test_a_new_logbook_needs_no_backup_yet(opened: Opened, tmp_path: Path) -> None:
    async with opened(tmp_path / "new.db", first_start=True) as pilot:
        await pilot.pause(0.2)
        assert not (tmp_path / "backups").exists()


async def _until_there(file: Path) -> None:
    for _ in range(500):
        if file.exists():
            return
        await asyncio.sleep(0.02)
    raise AssertionError(f"{file} was not made")
