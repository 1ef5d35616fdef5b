"""Ink: its sentences and four views, the readings behind a number, and what an empty logbook says."""

from __future__ import annotations

from pathlib import Path

import pytest
from textual.pilot import Pilot

from logbook.records import Cartridge, Ink, Printer
from logbook.store import journal, open_store
from logbook.tui.places.ink.gauge_page import GaugePage
from logbook.tui.places.ink.ink import Ink as InkPlace
from tests.reports.ink.story import START, two_months
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, shown


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A logbook with two months of ink."""
    made = tmp_path / "ink.db"
    with open_store(made) as store:
        two_months().write(store)
    return made


def line_with(pilot: Pilot[None], *words: str) -> str:
    """The first line of the screen that holds all the words."""
    return next(line for line in shown(pilot).splitlines() if all(word in line for word in words))


async def test_levels_with_number_and_the_black_that_is_out(path: Path, opened: Opened) -> None:
    async with opened(path) as pilot:
        await press(pilot, "4")
        assert isinstance(app_of(pilot).place, InkPlace)
        assert "Matte to photo wastes 13.0 ml" in shown(pilot)
        assert "‹levels›" in shown(pilot)
        assert "out" in line_with(pilot, "photo black", "%")
        assert " in " in line_with(pilot, "matte black", "%")
        assert "━" in line_with(pilot, "cyan", "%")


async def test_tab_goes_through_the_views_and_back(path: Path, opened: Opened) -> None:
    async with opened(path) as pilot:
        await press(pilot, "4", "tab")
        assert "photo → matte" in shown(pilot)
        assert "not read" in shown(pilot)
        await press(pilot, "tab")
        assert "▒" in line_with(pilot, "Sep 2026")
        assert "unexplained" in shown(pilot)
        await press(pilot, "tab")
        assert "of 200 ml" in line_with(pilot, "cyan")
        await press(pilot, "shift+tab", "shift+tab")
        assert "‹changeovers›" in shown(pilot)


@pytest.mark.parametrize(("tabs", "words"), [(0, "All of matte black"), (1, "Photo to matte"), (2, "2026: "), (3, "put in on")])
async def test_enter_opens_the_readings_behind(path: Path, opened: Opened, tabs: int, words: str) -> None:
    async with opened(path) as pilot:
        await press(pilot, "4", *["tab"] * tabs, "enter")
        assert isinstance(app_of(pilot).place, GaugePage)
        assert words in shown(pilot)
        assert "gone" in shown(pilot)
        await press(pilot, "escape")
        assert isinstance(app_of(pilot).place, InkPlace)


async def test_an_exchange_shows_before_and_after_of_every_ink(path: Path, opened: Opened) -> None:
    async with opened(path, size=(110, 30)) as pilot:
        await press(pilot, "4", "tab", "enter")
        assert "12.0" in line_with(pilot, "matte black", "→")
        assert "6.0" in line_with(pilot, "cyan", "→")


async def test_an_empty_logbook_says_what_to_press(opened: Opened) -> None:
    async with opened() as pilot:
        await press(pilot, "4")
        assert "Describe the printer on Shelf (7) first" in shown(pilot)
        await press(pilot, "tab", "tab", "enter")
        assert isinstance(app_of(pilot).place, InkPlace)


async def test_names_are_data(tmp_path: Path, opened: Opened) -> None:
    made = tmp_path / "odd.db"
    with open_store(made) as store:
        odd = Printer(
            id="one", name="[b]bench", max_width_mm=610, gauge_step_percent=1, inks=(Ink(ink="[red]cyan", nominal_ml=100),)
        )
        used = Cartridge(id="c", printer="one", ink="[red]cyan", installed=START, nominal_ml=100, lot="[b]lot[/b]")
        journal.write(store, "odd names", save=[odd, used])
    async with opened(made, size=(110, 30)) as pilot:
        await press(pilot, "4")
        assert "[red]cyan" in shown(pilot)
        await press(pilot, "shift+tab")
        assert "[b]lot" in shown(pilot)


async def test_each_empty_view_says_what_to_press(tmp_path: Path, opened: Opened) -> None:
    path = tmp_path / "bare.db"
    with open_store(path) as store:
        printer = Printer(id="one", name="bench", max_width_mm=610, gauge_step_percent=1, inks=(Ink(ink="cyan", nominal_ml=80),))
        journal.write(store, "a printer", save=[printer])
    async with opened(path) as pilot:
        await press(pilot, "4", "tab")
        assert "Press c when you exchange the black" in shown(pilot)
        await press(pilot, "tab")
        assert "Press r to read the gauge" in shown(pilot)
        await press(pilot, "tab")
        assert "Press w when you put a new one in" in shown(pilot)
