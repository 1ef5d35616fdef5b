"""A form filled in fast is the form filled in slowly."""

from __future__ import annotations

import asyncio
import time
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot

from logbook.records import Print
from logbook.store import open_store, reading
from logbook.tui.forms.print import asked
from tests.studio import MORNING, furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled

KEYS = ("n", *"Postcard", "tab", *"barya", "backspace", "tab", *"10x15in", "tab", "enter")


@pytest.fixture
def two_papers(tmp_path: Path) -> Path:
    """A logbook in which each paper was printed on with settings of its own, the rag last."""
    path = tmp_path / "fast.db"
    glossy: dict[str, Any] = {"profile": "baryta-1", "media": "gloss", "intent": "perceptual"}
    with open_store(path) as store:
        furnish(store)
        print_out(
            store,
            sheet("glossy", hours=-3, paper="baryta", stock="glossy-roll", border_mm=5.0, settings=glossy),
            sheet("matte", hours=-2),
        )
    return path


async def all_at_once(pilot: Pilot[None], path: Path, keys: tuple[str, ...]) -> None:
    for key in keys:
        app_of(pilot).post_message(events.Key(key, key if len(key) == 1 else None))
    for _ in range(200):  # until it is saved, however busy the machine
        await settled(pilot)
        if newest(path).at >= MORNING:
            return
        await asyncio.sleep(0.05)


def newest(path: Path) -> Print:
    with open_store(path) as store:
        return reading.every(store, Print)[-1]


def logged(path: Path) -> dict[str, Any]:
    """The print that was logged, without what differs from run to run."""
    print_ = newest(path)
    assert print_.at >= MORNING
    return {name: getattr(print_, name) for name in ("paper", "stock", "border_mm", "width_mm", "height_mm", "settings")}


async def test_a_burst_logs_what_slow_keys_log(opened: Opened, two_papers: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    async with opened(two_papers) as pilot:
        await press(pilot, *KEYS)
        slow = logged(two_papers)
        assert slow["paper"] == "baryta" and slow["settings"]["profile"] == "baryta-1" and slow["stock"] == "glossy-roll"
        await press(pilot, "u")
        quickly = asked.start_on

        def slowly(*told: Any, **more: Any) -> Any:
            time.sleep(0.1)
            return quickly(*told, **more)

        monkeypatch.setattr(asked, "start_on", slowly)
        await all_at_once(pilot, two_papers, KEYS)
    assert logged(two_papers) == slow
