"""What came from the print queue, on Today: confirmed, opened, said to be none, and asked for."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest

from logbook.actions import queue
from logbook.link.address import parse_address
from logbook.link.jobs import Job, State
from logbook.records import Judgement, Print
from logbook.store import open_store, reading
from logbook.tui.places.prints.lines import PrintLines
from tests.link.queue import Queue, print_server
from tests.studio import MORNING, count_sheets, with_a_print
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill
from tests.tui.screens import app_of, press, settled, shown

WIDE = parse_address("ipp://localhost/printers/wide")


def job(number: int, name: str = "Ebb at Low Stair", copies: int = 1) -> Job:
    at = MORNING + timedelta(hours=number)
    return Job(key=f"urn:uuid:{number}", number=number, name=name, at=at, state=State.COMPLETED, copies=copies)


@pytest.fixture
def waiting(tmp_path: Path) -> Path:
    """A logbook with one print, and three jobs that wait."""
    path = with_a_print(tmp_path / "queue.db")
    with open_store(path) as store:
        queue.take(store, WIDE, [job(1), job(2, "Winter Groyne", copies=3), job(3, "Test page")])
    return path


def logged(path: Path) -> list[Print]:
    with open_store(path) as store:
        return reading.every(store, Print)


async def test_enter_confirms_each_job_and_then_the_prints_have_the_cursor(opened: Opened, waiting: Path) -> None:
    async with opened(waiting) as pilot:
        assert "5 prints came from the queue: enter confirms, v judges too, x: it was none." in shown(pilot)
        await press(pilot, "enter", "enter", "x")
        assert "came from the queue" not in shown(pilot)
        assert isinstance(app_of(pilot).focused, PrintLines)
    assert len(logged(waiting)) == 5


async def test_v_judges_job_after_job_and_what_is_left_out_on_the_way(opened: Opened, waiting: Path) -> None:
    async with opened(waiting) as pilot:
        await press(pilot, "v", "1", "K")
        assert "Judge Winter Groyne, 3 copies" in shown(pilot)
        await fill(pilot, "copies", "1, 3")
        await press(pilot, "tab", "K")
        assert "Judge #0004 Winter Groyne" in shown(pilot)
        await press(pilot, "S")
        assert "Judge Test page" in shown(pilot)
        await press(pilot, "escape")
        assert "1 print came from the queue" in shown(pilot)
    with open_store(waiting) as store:
        numbers = reading.numbers(store)
        assert [(numbers[one.print], one.verdict) for one in reading.every(store, Judgement)] == [
            (2, "keep"),
            (3, "keep"),
            (5, "keep"),
            (4, "scrap"),
        ]


async def test_a_job_that_lacks_something_says_so_and_waits_on(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "empty.db"
    with open_store(path) as store:
        queue.take(store, WIDE, [job(1, "[bold red]Ebb[/] \u202etide\x1b[2J")])
    async with opened(path) as pilot:
        assert "[bold red]Ebb[/] \ufffdtide\ufffd[2J" in shown(pilot)
        await press(pilot, "v")
        assert "is still missing" in shown(pilot)
        assert "1 print came from the queue" in shown(pilot)


async def test_undo_lets_a_job_wait_again_and_z_brings_back_what_was_none(opened: Opened, waiting: Path) -> None:
    async with opened(waiting) as pilot:
        await press(pilot, "j", "enter")
        assert "2 prints came from the queue" in shown(pilot)
        await press(pilot, "u")
        assert "5 prints came from the queue" in shown(pilot)
        await press(pilot, "x", "z")
        assert "5 prints came from the queue" in shown(pilot)
    assert len(logged(waiting)) == 1


async def test_e_opens_the_form_and_what_is_changed_is_logged(opened: Opened, waiting: Path) -> None:
    async with opened(waiting) as pilot:
        await press(pilot, "e")
        assert "From the queue: Ebb at Low Stair" in shown(pilot)
        await fill(pilot, "shadow_lift", "12")
        await press(pilot, "enter")
        assert "4 prints came from the queue" in shown(pilot)
    last = logged(waiting)[-1]
    assert (last.settings["shadow_lift"], last.at) == (12, MORNING + timedelta(hours=1))
    assert last.job is not None


async def test_a_new_picture_is_opened_with_its_title(opened: Opened, waiting: Path) -> None:
    async with opened(waiting) as pilot:
        await press(pilot, "G", "e")
        await press(pilot, "enter")
    with open_store(waiting) as store:
        assert reading.every(store, Print)[-1].picture not in ("ebb", "groyne")


async def test_sheets_that_are_not_in_the_log_are_said_until_they_were_no_prints(opened: Opened, tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "sheets.db")
    with open_store(path) as store:
        for days, sheets in ((2, 100), (0, 103)):
            count_sheets(store, MORNING + timedelta(hours=1, days=-days), sheets)
        monday = Job(key="urn:uuid:9", number=9, name="Ebb", at=MORNING - timedelta(days=2), state=State.COMPLETED)
        queue.take(store, WIDE, [monday])
    async with opened(path, size=(110, 30)) as pilot:
        assert "2 sheets since Monday are not in the log, by the printer's own count." in " ".join(shown(pilot).split())
        await press(pilot, "Z")
        assert "One sheet since Monday is not in the log." in " ".join(shown(pilot).split())  # it waits, and is in sight
        await press(pilot, "x")
        assert "not in the log" not in shown(pilot)


async def test_elsewhere_the_keys_mean_what_they_always_do(opened: Opened, waiting: Path) -> None:
    async with opened(waiting) as pilot:
        await press(pilot, "tab", "x")
        assert "Head cleaning" in shown(pilot) or "cleaning" in shown(pilot)


@pytest.fixture
def server(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Queue]:
    with print_server(tmp_path_factory.mktemp("server")) as known:
        known.print("Ebb at Low Stair 30x40.tif", copies=2)
        known.finished(1)
        yield known


async def test_q_asks_for_the_queue_once_and_takes_what_it_has(opened: Opened, server: Queue, tmp_path: Path) -> None:
    path = with_a_print(tmp_path / "asked.db")
    async with opened(path) as pilot:
        await press(pilot, "Q")
        await fill(pilot, "address", str(server.address))
        await press(pilot, "enter")
        await settled(pilot)
        assert "2 prints came from the queue" in shown(pilot)
        await press(pilot, "enter", "Q")
        assert "The queue has nothing new" in shown(pilot)
    assert len(logged(path)) == 3
