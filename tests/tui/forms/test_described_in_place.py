"""What a print names for the first time is described in place, over the form of the print."""

from __future__ import annotations

from pathlib import Path

from logbook.records import Order, Paper, Printer, Stock
from logbook.store import open_store, reading
from logbook.tui.forms.print.form import PrintFormScreen
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill, form, prints, value
from tests.tui.screens import press, shown


async def test_a_new_paper_is_described_in_place(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "paper", "Sluice Etching")
        await press(pilot, "enter")
        assert "A new paper: Sluice Etching" in shown(pilot)
        await press(pilot, "m", "enter")
        assert isinstance(form(pilot), PrintFormScreen)
        await press(pilot, "enter")
    with open_store(studio) as store:
        paper = next(paper for paper in reading.every(store, Paper) if paper.name == "Sluice Etching")
    assert (paper.black, prints(studio)[-1].paper) == ("matte", paper.id)


async def test_a_new_order_roll_and_printer_are_described_in_place(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "order", "Three for the stair")
        await press(pilot, "enter", *"3", "enter")
        assert value(pilot, "order") is not None
        await fill(pilot, "stock", "a fresh one")
        await press(pilot, "enter")
        assert "A fresh roll or box" in shown(pilot)
        await press(pilot, "enter")
        assert value(pilot, "stock") != "roll"
        await fill(pilot, "printer", "bench two")
        await press(pilot, "enter", "enter")
        await press(pilot, "ctrl+s")
        assert "#0003" in shown(pilot)
    new = prints(studio)[-1]
    with open_store(studio) as store:
        order, printer = reading.get(store, Order, new.order or ""), reading.get(store, Printer, new.printer)
        rolls = [roll for roll in reading.every(store, Stock) if roll.paper == "rag"]
    assert order is not None
    assert (order.title, order.prints, order.paper) == ("Three for the stair", 3, "rag")
    assert printer is not None
    assert printer.name == "bench two"
    assert [roll.id == new.stock for roll in rolls] == [False, True]


async def test_a_roll_needs_its_paper_first(opened: Opened, tmp_path: Path) -> None:
    async with opened(tmp_path / "empty.db") as pilot:
        await press(pilot, "n")
        await fill(pilot, "stock", "some roll")
        await press(pilot, "enter")
        assert "say the paper first, then its roll or box" in shown(pilot)


async def test_a_paper_left_undescribed_is_refused_at_its_field(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "paper", "Sluice Etching")
        await press(pilot, "enter", "escape", "ctrl+s")
        assert "Sluice Etching is a new paper: enter describes it" in shown(pilot)
        await press(pilot, "enter")
        assert "A new paper: Sluice Etching" in shown(pilot)
    assert len(prints(studio)) == 2
