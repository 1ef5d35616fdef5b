"""A place whose answer takes long says what is being done, can be left, and holds nobody up."""

from __future__ import annotations

import asyncio
import threading
import time
from typing import Any

import pytest
from textual.worker import WorkerCancelled

from logbook.records.long_work import step
from logbook.store import Store
from logbook.tui.places.tone.tone import Tone
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, settled, shown


class Endless:
    """A reading that never comes to an end of itself, and notes whether it was left."""

    def __init__(self) -> None:
        self.begun, self.left = threading.Event(), threading.Event()

    def __call__(self, store: Store) -> Any:
        self.begun.set()
        try:
            while True:
                step("reading 100,000 prints")
                time.sleep(0.002)
        finally:
            self.left.set()


class InSql(Endless):
    """The same within one statement of SQL."""

    def __call__(self, store: Store) -> Any:
        self.begun.set()
        try:
            return store.connection.execute(
                "WITH RECURSIVE n(i) AS (SELECT 1 UNION ALL SELECT i + 1 FROM n) SELECT count(*) FROM n"
            ).fetchone()
        finally:
            self.left.set()


@pytest.fixture(params=[Endless, InSql])
def endless(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Endless:
    reading: Endless = request.param()
    monkeypatch.setattr(Tone, "read", lambda place, store: reading(store))
    return reading


async def until(event: threading.Event) -> None:
    assert await asyncio.to_thread(event.wait, 5)


async def test_it_says_what_it_is_doing_and_x_stops_it(opened: Opened, endless: Endless) -> None:
    async with opened() as pilot:
        await pilot.press("3")
        await until(endless.begun)
        while not app_of(pilot).doing:
            await pilot.pause(0.05)
        await pilot.pause()
        doing = "Reading 100,000 prints …" if type(endless) is Endless else "Working it out …"
        assert f"{doing} X stops it" in shown(pilot)
        await pilot.press("X")
        await until(endless.left)
        await pilot.pause()
        assert "R asks for it again" in shown(pilot)
        assert app_of(pilot).doing == ""
        endless.begun.clear()
        await pilot.press("R")
        await until(endless.begun)


async def test_going_to_another_place_gives_it_up_and_coming_back_asks_again(opened: Opened, endless: Endless) -> None:
    async with opened() as pilot:
        await pilot.press("3")
        await until(endless.begun)
        await pilot.press("2")
        await until(endless.left)
        await settled(pilot)
        assert app_of(pilot).place.mode == "prints"
        endless.begun.clear()
        await pilot.press("3")
        await until(endless.begun)


async def test_a_page_over_it_does_not_give_it_up(opened: Opened, endless: Endless) -> None:
    async with opened() as pilot:
        await pilot.press("3")
        await until(endless.begun)
        await pilot.press("question_mark")
        await pilot.pause(0.1)
        assert not endless.left.is_set()


async def test_leaving_the_program_waits_for_no_answer(opened: Opened, endless: Endless) -> None:
    async with opened() as pilot:
        await pilot.press("3")
        await until(endless.begun)
        await pilot.press("q")
    await until(endless.left)


async def test_what_is_given_up_was_never_a_failure(opened: Opened, endless: Endless) -> None:
    async with opened() as pilot:
        left = asyncio.create_task(app_of(pilot).study.run(endless))
        await until(endless.begun)
        left.cancel()
        with pytest.raises((asyncio.CancelledError, WorkerCancelled)):
            await left
        await until(endless.left)
        assert await app_of(pilot).study.run(lambda store: 7) == 7
