"""Keys that come all at once mean what they mean one by one."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual import events
from textual.pilot import Pilot

from logbook.records import Judgement, Print
from logbook.store import open_store, reading
from tests.studio import furnish, only, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, settled, shown


@pytest.fixture
def one_print(tmp_path: Path) -> Path:
    """The small studio with one print."""
    path = tmp_path / "one.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("one"))
    return path


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
        await all_at_once(pilot, "v", "1", "k", "enter", until="#0002 judged: keep, one third dark")
    with open_store(one_print) as store:
        assert reading.count(store, Print) == 2
        assert only(store, Judgement).darkness == -1


async def test_a_burst_of_letters_stays_in_its_order(opened: Opened, one_print: Path) -> None:
    async with opened(one_print) as pilot:
        await all_at_once(pilot, "n", *"Moorings", until="new picture: Moorings")
