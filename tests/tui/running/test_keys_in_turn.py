"""Keys that come all at once mean what they mean one by one."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot

from logbook.records import Judgement, Print
from logbook.store import Store, open_store, reading
from logbook.tui.places.today import Today
from tests.studio import only, with_a_print
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown


@pytest.fixture
def one_print(tmp_path: Path) -> Path:
    """The small studio with one print."""
    return with_a_print(tmp_path / "one.db", "one")


async def all_at_once(pilot: Pilot[None], *keys: str, until: str) -> None:
    """Send keys without waiting between them, then wait for what they bring."""
    for key in keys:
        app_of(pilot).post_message(events.Key(key, key if len(key) == 1 else None))
    for _ in range(100):
        await settled(pilot)
        if until in shown(pilot):
            return
    raise AssertionError(shown(pilot))


async def test_a_burst_of_keys_logs_and_judges(opened: Opened, one_print: Path) -> None:
    async with opened(one_print) as pilot:
        await all_at_once(pilot, "l", "enter", until="#0002 Ebb at Low Stair, 30×40 cm logged")
        await all_at_once(pilot, "v", "1", "k", "enter", until="#0002 judged: keep, one third darker")
    with open_store(one_print) as store:
        assert reading.count(store, Print) == 2
        assert only(store, Judgement).darkness == -1


async def test_what_was_just_logged_is_judged_also_where_the_list_is_read_slowly(
    opened: Opened, one_print: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    async with opened(one_print) as pilot:
        quickly = Today.read

        def slowly(place: Today, store: Store) -> Any:
            time.sleep(0.6)
            return quickly(place, store)

        await press(pilot, "l")
        monkeypatch.setattr(Today, "read", slowly)
        app_of(pilot).post_message(events.Key("enter", None))
        while "#0002 Ebb at Low Stair" not in app_of(pilot).said:
            await pilot.pause(0.01)
        await all_at_once(pilot, "v", until="Judge #")
        assert "Judge #0002" in shown(pilot)


async def test_a_burst_of_letters_stays_in_its_order(opened: Opened, one_print: Path) -> None:
    async with opened(one_print) as pilot:
        await all_at_once(pilot, "n", *"Moorings", until="new picture: Moorings")
