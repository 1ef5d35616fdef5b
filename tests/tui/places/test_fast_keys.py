"""Keys pressed faster than answers come: each goes on from what was asked last, never from an older answer."""

from __future__ import annotations

import time
from pathlib import Path
from typing import Any

import pytest
from textual import events
from textual.pilot import Pilot

from logbook.reports.batch.model import Changes
from logbook.store import Store, open_store
from logbook.tui.places.batches.batches import Batches
from logbook.tui.places.month.month import Month
from logbook.tui.places.place import AnyPlace
from logbook.tui.places.prints.page import PrintPage
from tests.studio import furnish, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown


def slow(monkeypatch: pytest.MonkeyPatch, kind: type[AnyPlace]) -> None:
    """Let every answer of a place come late."""
    quickly = kind.read

    def slowly(place: AnyPlace, store: Store) -> Any:
        time.sleep(0.15)
        return quickly(place, store)

    monkeypatch.setattr(kind, "read", slowly)


async def burst(pilot: Pilot[None], *keys: str) -> None:
    """All keys at once, then what they bring."""
    for key in keys:
        app_of(pilot).post_message(events.Key(key, key if len(key) == 1 else None))
    for _ in range(3):
        await pilot.pause()
        await settled(pilot)


async def test_three_keys_go_three_months_back_and_two_forward(
    opened: Opened, demo_copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow(monkeypatch, Month)
    async with opened(demo_copy) as pilot:
        await press(pilot, "6")
        await burst(pilot, *["left_square_bracket"] * 3)
        assert "August 2026" in shown(pilot)
        await burst(pilot, *["right_square_bracket"] * 2)
        assert "October 2026" in shown(pilot)
        await burst(pilot, *["right_square_bracket"] * 9)
        assert "November 2026" in shown(pilot)


async def test_two_keys_go_two_attempts_on(opened: Opened, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "attempts.db"
    with open_store(path) as store:
        furnish(store)
        before = [None, "a", "b", "c"]
        print_out(store, *(sheet(id, hours=place, attempt_of=before[place]) for place, id in enumerate("abcd")))
    slow(monkeypatch, PrintPage)
    async with opened(path) as pilot:
        await press(pilot, "G", "enter")
        first = app_of(pilot).chosen_print()
        await burst(pilot, "right_square_bracket", "right_square_bracket")
        ids = "abcd"
        assert app_of(pilot).chosen_print() == ids[(ids.index(first or "") + 2) % 4]
        assert f"#{ids.index(app_of(pilot).chosen_print() or '') + 1:04d}" in shown(pilot)


async def test_what_is_supposed_steps_from_what_is_logged(
    opened: Opened, demo_copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    slow(monkeypatch, Batches)
    seen: list[Changes] = []
    async with opened(demo_copy) as pilot:
        await press(pilot, "5")
        place = app_of(pilot).place
        assert isinstance(place, Batches)
        await burst(pilot, "plus")
        seen.append(place._supposing.changes)
        await burst(pilot, *["plus"] * 4, "escape", "plus")
        seen.append(place._supposing.changes)
    assert seen[0] == seen[1]
