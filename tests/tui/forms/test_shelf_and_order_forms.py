"""Orders, rolls, papers, lights, screens, the printer and its bench times by keys; and the first start."""

from __future__ import annotations

from pathlib import Path

from logbook.records import Bench, Light, Order, Paper, Printer, Screen, Stock, Wedge
from logbook.store import open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.line import Line
from tests.studio import only
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown


async def fill(pilot: object, **texts: str) -> None:
    """Put texts into the lines of the open form."""
    form = app_of(pilot).screen  # type: ignore[arg-type]
    assert isinstance(form, Form)
    for name, text in texts.items():
        form.field(name, Field).query_one(Line).value = text
    await settled(pilot)  # type: ignore[arg-type]


async def test_an_order_takes_its_title_its_numbers_and_six_keys(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "o", *"pair", "tab", "2", "tab", *"ti", "tab", "enter")
        assert "Order pair taken, 2 prints · u undoes it" in shown(pilot)
        assert "matte 2, photo 0" in shown(pilot)
        with open_store(studio) as store:
            order = only(store, Order)
        assert (order.paper, order.taken.isoformat()) == ("rag", "2026-11-25")
        await press(pilot, "u")
        assert "matte 0, photo 0" in shown(pilot)


async def test_an_order_says_what_it_lacks(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "o", *"pair", "enter")
        assert "“prints” is still empty" in shown(pilot)
        await fill(pilot, prints="2", promised="+8")
        await press(pilot, "ctrl+s")
        assert "an order names a paper, or the black that any paper for it needs" in shown(pilot)
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        form.field("black").focus()
        await press(pilot, "right", "space", "ctrl+s")
        with open_store(studio) as store:
            order = only(store, Order)
        assert (order.black, str(order.promised)) == ("photo", "2026-12-03")


async def test_an_order_says_while_its_date_is_typed_whether_it_would_be_ready(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "o", *"pair", "tab", "2", "tab", *"ti", "tab")
        assert "planned for Wed 25 Nov" in shown(pilot)
        await fill(pilot, promised="+8")
        assert "ready in time over 99 in 100 times" in shown(pilot)
        await fill(pilot, prints="60")
        assert "ready in time under 1 in 100 times" in shown(pilot)


async def test_what_lateness_and_waiting_cost_is_typed_and_its_default_told(opened: Opened, studio: Path) -> None:
    async with opened(studio, size=(100, 40)) as pilot:
        await press(pilot, "o", *"pair", "tab", "2", "tab", *"ti", "tab")
        assert "1           each day after its date" in shown(pilot)
        await fill(pilot, late_cost_per_day="5", wait_cost_per_day="0.5")
        await press(pilot, "ctrl+s")
        with open_store(studio) as store:
            order = only(store, Order)
        assert (order.late_cost_per_day, order.wait_cost_per_day) == (5.0, 0.5)


async def test_an_order_describes_a_new_paper_in_place(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "o", *"pair", "tab", "2", "tab", *"Sluice", "tab")
        assert "A new paper: Sluice" in shown(pilot)
        await press(pilot, "escape", "ctrl+s")
        assert "Sluice is a new paper: enter describes it" in shown(pilot)
        await press(pilot, "enter", "p", "enter", "ctrl+s")
        assert "Order pair taken, 2 prints · u undoes it" in shown(pilot)
    with open_store(studio) as store:
        paper = next(paper for paper in reading.every(store, Paper) if paper.name == "Sluice")
        assert (paper.black, only(store, Order).paper) == ("photo", paper.id)


async def test_a_first_roll_describes_its_paper_in_place(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "first.db"
    async with opened(path) as pilot:
        await press(pilot, "f", *"Rag", "tab")
        assert "A new paper: Rag" in shown(pilot)
        await fill(pilot, width_mm="61cm", length_mm="15m")
        await press(pilot, "m", "enter")
        assert "A fresh roll or box" in shown(pilot)
        await press(pilot, "ctrl+s")
        assert "New roll of Rag opened, 15 m" in shown(pilot)
    with open_store(path) as store:
        assert (only(store, Stock).paper, only(store, Stock).width_mm) == (only(store, Paper).id, 610)


async def test_a_wedge_is_read_under_a_light_that_is_new(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "7", "W", "9", "tab", *"North window", "tab", "enter")
        assert "Wedge reading of Tideway Rag 310 noted" in shown(pilot)
        await press(pilot, "u")
        assert "Undone: Wedge reading of Tideway Rag 310 noted" in shown(pilot)
        await press(pilot, "U")
    with open_store(studio) as store:
        light = next(light for light in reading.every(store, Light) if light.name == "North window")
        assert (only(store, Wedge).light, only(store, Wedge).first_step) == (light.id, 9)


async def test_a_fresh_roll_starts_like_the_last_and_finishes_it(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "f", "enter")
        assert "New roll of Tideway Rag 310 opened, 3 m" in shown(pilot)
        with open_store(studio) as store:
            rolls = [roll for roll in reading.every(store, Stock) if roll.paper == "rag"]
        assert [roll.closed is None for roll in rolls] == [False, True]
        await press(pilot, "f")
        await fill(pilot, paper="Harbour Baryta")
        assert "12 m" in shown(pilot)


async def test_the_shelf_adds_changes_and_removes(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "7")
        assert "2 papers, 2 open rolls and boxes, 1 light, 1 screen and 1 printer." in shown(pilot)
        await press(pilot, "plus", *"Sluice", "tab", "m", "enter")
        assert "Paper Sluice noted" in shown(pilot)
        await press(pilot, "u", "g", "down", "enter")
        await fill(pilot, weight_gsm="310")
        await press(pilot, "enter")
        assert "Paper Tideway Rag 310 changed" in shown(pilot)
        await press(pilot, "d")
        assert "this paper is used by 1 stock and 2 prints; it was not deleted" in shown(pilot)
        await press(pilot, "W", *"14", "enter")
        assert "Wedge reading of Tideway Rag 310 noted" in shown(pilot)
        assert "first step 14" in shown(pilot)
    with open_store(studio) as store:
        assert {paper.name for paper in reading.every(store, Paper)} == {"Tideway Rag 310", "Harbour Baryta"}
        assert only(store, Wedge).first_step == 14


async def test_a_roll_is_corrected_finished_and_brought_back(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "7", "z")
        assert "Put the cursor on the roll or box that is finished." in shown(pilot)
        await press(pilot, "down", "down", "down", "enter")
        assert "The roll or box opened 16 Nov 2026" in shown(pilot)
        await fill(pilot, price="101")
        await press(pilot, "enter", "z")
        assert "finished with" in shown(pilot)
        assert "1 open roll or box" in shown(pilot)
        await press(pilot, "u")
        assert "2 open rolls and boxes" in shown(pilot)
        await press(pilot, "z")
        await press(pilot, "z")
        assert "Roll of Harbour Baryta in use again" in shown(pilot)
        assert "2 open rolls and boxes" in shown(pilot)


async def test_lights_screens_and_bench_times_are_described(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "7", "G", "enter")
        assert "Bench times of bench one" in shown(pilot)
        await fill(pilot, minutes_per_day="300", matte_to_photo="35")
        await press(pilot, "ctrl+s")
        assert "Mon–Fri, 300 min a day" in shown(pilot)
        await press(pilot, "up", "up", "up", "up", "e")
        await fill(pilot, calibrated="2026-11-02")
        await press(pilot, "ctrl+s")
        assert "calibrated 2 Nov 2026, 3 weeks ago" in shown(pilot)
        await press(pilot, "up", "up", "plus")
        await fill(pilot, name="Window wall", illuminance_lx="300")
        await press(pilot, "ctrl+s")
        assert "there is a light called window wall already" in shown(pilot)
        await fill(pilot, name="north lamp")
        await press(pilot, "ctrl+s")
        assert "Light north lamp noted" in shown(pilot)
    with open_store(studio) as store:
        assert only(store, Bench).changeover_cost == {"matte->photo": 35}
        assert len(reading.every(store, Light)) == 2


async def test_the_first_start_goes_through_four_steps_that_can_be_skipped(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "first.db"
    async with opened(path) as pilot:
        assert "This logbook is empty." in shown(pilot)
        await press(pilot, "s", *"bench one", "enter")
        assert "Step 2 of 4: a paper and the black it needs" in shown(pilot)
        await press(pilot, *"Rag", "tab", "m", "enter")
        assert "Step 2 of 4: another paper" in shown(pilot)
        await press(pilot, "f9")
        assert "Step 3 of 4" in shown(pilot)
        await press(pilot, "f9")
        assert "Step 4 of 4" in shown(pilot)
        await press(pilot, *"desk", "enter")
        assert "Not all is set up yet." in shown(pilot)
        await press(pilot, "s", *"wall", "enter")
        assert "No print is logged yet. Press n to log the first one." in shown(pilot)
        await press(pilot, "n")
        await fill(pilot, picture="Ebb at Low Stair", size="40x50cm")
        await press(pilot, "ctrl+s")
        assert "#0001 Ebb at Low Stair, 40×50 cm logged" in shown(pilot)
    with open_store(path) as store:
        assert len(only(store, Printer).inks) == 8
        assert (only(store, Light).name, only(store, Screen).name) == ("wall", "desk")


async def test_a_printers_inks_are_typed_as_words_and_numbers(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "inks.db"
    async with opened(path) as pilot:
        await press(pilot, "s")
        await fill(pilot, name="bench two", ink_7="deep grey 110 55,5", ink_2="", gauge_step_percent="0")
        await press(pilot, "ctrl+s")
        assert "0 is not above 0 and at most 100" in shown(pilot)
        await fill(pilot, gauge_step_percent="5", ink_3="cyan")
        await press(pilot, "ctrl+s")
        assert "type a name, millilitres, and a price if you like" in shown(pilot)
        await fill(pilot, ink_3="")
        await press(pilot, "ctrl+s")
    with open_store(path) as store:
        inks = {ink.ink: (ink.nominal_ml, ink.price) for ink in only(store, Printer).inks}
    assert inks["deep_grey"] == (110, 55.5)
    assert {"matte_black", "photo_black"} <= set(inks)
    assert "cyan" not in inks


async def test_what_was_missing_is_missing_no_more_once_it_is_chosen(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "7", "g", "+", *"Sluice", "ctrl+s")
        assert shown(pilot).count("“black” is still empty") == 2  # beside the field, and in the rule
        await press(pilot, "m")
        assert "matte" in shown(pilot)
        assert shown(pilot).count("“black” is still empty") == 1


async def test_the_cursor_goes_to_what_was_just_added(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "7", "+", *"Aaa Sluice", "tab", "m", "enter")
        assert "›Aaa Sluice" in shown(pilot)


async def test_nine_inks_are_typed_on_one_line_that_knows_both_blacks(opened: Opened, tmp_path: Path) -> None:
    path = tmp_path / "nine.db"
    async with opened(path, first_start=True) as pilot:
        await fill(pilot, name="bench nine", all_inks="both blacks, c, m, y, lc, lm, grey, light grey 110 48.5")
        await fill(pilot, ink_0="matte black 350 120")
        await press(pilot, "ctrl+s")
    with open_store(path) as store:
        inks = {ink.ink: (ink.nominal_ml, ink.price) for ink in only(store, Printer).inks}
    assert list(inks)[:3] == ["matte_black", "photo_black", "cyan"] and len(inks) == 9
    assert (inks["matte_black"], inks["light_grey"]) == ((350, 120), (110, 48.5))
