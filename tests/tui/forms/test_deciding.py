"""What was changed in two logbooks apart is decided in the program, one thing at a time."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from logbook.actions.merging import bring_in, other_logbook, questions
from logbook.records import Print
from logbook.store import backup, journal, merging, open_store, reading
from tests.tui.conftest import Opened
from tests.tui.screens import press, shown


def changed(path: Path, note: str, ink_ml: float) -> None:
    with open_store(path) as store:
        known = reading.get(store, Print, "two")
        assert known is not None
        journal.write(store, "Corrected", save=[msgspec.structs.replace(known, note=note, ink_ml=ink_ml)])


@pytest.fixture
def merged(studio: Path, tmp_path: Path) -> Path:
    """The newest print was corrected on two machines."""
    laptop = tmp_path / "laptop.db"
    with open_store(studio) as store:
        backup.back_up(store, laptop)
    changed(studio, "desk [b]soft[/]", 2.5)
    changed(laptop, "lap hard", 3)
    with open_store(studio) as store, other_logbook(store, laptop) as other:
        bring_in(store, other, merging.plan(store, other), "laptop.db")
    return studio


async def test_one_thing_after_the_other_is_decided_and_undone(opened: Opened, merged: Path) -> None:
    async with opened(merged) as pilot:
        assert "2 things were changed differently in two logbooks: = decides." in " ".join(shown(pilot).split())
        await press(pilot, "=")
        screen = shown(pilot)
        assert "#0002 Winter Groyne" in screen
        assert "1 more thing to decide" in screen
        await press(pilot, "1", "enter", "=")
        screen = shown(pilot)
        assert "“desk [b]soft[/]”" in screen
        wanted = "1" if "1: “lap hard”" in screen else "2"
        await press(pilot, wanted, "enter")
        with open_store(merged) as store:
            assert questions(store) == []
            known = reading.get(store, Print, "two")
            assert known is not None and known.note == "lap hard"
        await press(pilot, "=")
        assert "nothing to decide" in shown(pilot)
        await press(pilot, "u")
        with open_store(merged) as store:
            assert len(questions(store)) == 1


async def test_nothing_chosen_is_said(opened: Opened, merged: Path) -> None:
    async with opened(merged) as pilot:
        await press(pilot, "=", "enter")
        assert "“keep” is still empty" in shown(pilot)
