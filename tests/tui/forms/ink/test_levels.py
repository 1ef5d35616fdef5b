"""Exchanging the black, gauge rounds, cartridges and cleanings by keys, each in under ten beside its numbers."""

from __future__ import annotations

from pathlib import Path

from logbook.records import Cartridge, Changeover, Cleaning, Gauge
from logbook.store import open_store, reading
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.numbers_row import NumbersRow
from tests.studio import only
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill, form
from tests.tui.screens import app_of, press, shown


def typed(*numbers: int) -> list[str]:
    """A row of numbers as keys, with a space between each two."""
    return [("space" if key == " " else key) for key in " ".join(map(str, numbers))]


BEFORE = typed(79, 69, 65, 63, 49, 47, 29)
AFTER = typed(88, 67, 63, 61, 47, 45, 27)


async def test_an_exchange_is_two_rows_of_numbers_and_three_keys(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "c")
        screen = shown(pilot)
        assert "Exchange the black: matte goes, photo comes" in screen
        assert "Keep hands away from the carriage" in screen
        await press(pilot, *BEFORE, "space", *AFTER, "enter")
        assert "Matte exchanged for photo; 10 ml drawn, by the gauge · u undoes it" in shown(pilot)
        assert "photo in" in shown(pilot)
        with open_store(studio) as store:
            changeover = only(store, Changeover)
            before, after = (reading.get(store, Gauge, one or "") for one in (changeover.before, changeover.after))
        assert before is not None
        assert after is not None
        assert before.levels["matte_black"] == 79
        assert after.levels["photo_black"] == 88
        await press(pilot, "u")
        assert "matte in" in shown(pilot)


async def test_a_level_that_rises_sends_the_cursor_to_its_row_and_a_draft_survives(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "c", *BEFORE, "enter", *typed(88, 67, 63, 61, 47, 45, 31), "enter")
        assert "grey rose from 29 to 31 %: a level only rises with a new cartridge" in shown(pilot)
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        assert form.focused is form.field("after", NumbersRow).cells
        await press(pilot, "escape")
    async with opened(studio) as pilot:
        await press(pilot, "c")
        form = app_of(pilot).screen
        assert isinstance(form, Form)
        assert form.field("after", NumbersRow).value["grey"] == 31
        form.field("after", NumbersRow).focus()
        await press(pilot, *["right"] * 6, "backspace", "backspace", *"27", "enter")
        assert "Matte exchanged for photo" in shown(pilot)


async def test_a_gauge_round_is_one_row_and_two_keys(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "r", *BEFORE, "enter")
        assert "Levels of 7 inks noted" in shown(pilot)
        await press(pilot, "r", *"90", "enter", "ctrl+s")
        assert "matte black rose from 79 to 90 %" in shown(pilot)
        await press(pilot, "f9", "u")
    with open_store(studio) as store:
        assert reading.count(store, Gauge) == 1


async def test_a_new_cartridge_is_completed_from_its_first_letters(opened: Opened, studio: Path) -> None:
    keys = ["w", "g", "r", "tab", "enter"]
    assert len(keys) < 10
    async with opened(studio) as pilot:
        await press(pilot, *keys)
        assert "New grey cartridge of 80 ml noted" in shown(pilot)
        with open_store(studio) as store:
            cartridge = only(store, Cartridge)
        assert (cartridge.ink, cartridge.price, cartridge.start_percent) == ("grey", 40, 100)
        await press(pilot, "u")
    with open_store(studio) as store:
        assert reading.count(store, Cartridge) == 0


async def test_a_cleaning_is_three_keys(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "x", "d", "enter")
        assert "Deep cleaning noted" in shown(pilot)
        await press(pilot, "x", "n", "w", "a", "enter")
        assert "the nozzle check is not clear yet" in shown(pilot)
    with open_store(studio) as store:
        assert [(one.strength, one.clear_before, one.clear_after) for one in reading.every(store, Cleaning)] == [
            ("deep", None, None),
            ("normal", False, False),
        ]


async def test_without_a_printer_the_forms_say_where_to_describe_one(opened: Opened, tmp_path: Path) -> None:
    async with opened(tmp_path / "empty.db") as pilot:
        for key in ("c", "r", "w", "x"):
            await press(pilot, key)
            assert "Describe the printer first: it stands on Shelf." in shown(pilot)


async def test_a_fall_nobody_can_have_printed_is_asked_about_and_kept_on_a_second_enter(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "r", *BEFORE, "enter", "r", *typed(78, 9, 64, 62, 48, 46, 28), "enter")
        assert "fell from 69 to 9 %" in shown(pilot)
        assert "save once more" in shown(pilot)
        await press(pilot, "enter")
        assert "Levels of 7 inks noted" in shown(pilot)
    with open_store(studio) as store:
        assert reading.count(store, Gauge) == 3  # one was there


async def test_what_happened_earlier_is_logged_with_its_time(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "r", *BEFORE)
        await fill(pilot, "at", "yesterday 16:30")
        await press(pilot, "enter", "c")
        await fill(pilot, "ended", "9:05")
        await press(pilot, "enter", "w", "g", "r", "enter")
        await fill(pilot, "installed", "tue 9:10")
        await press(pilot, "ctrl+s", "x")
        await fill(pilot, "at", "24 nov")
        await press(pilot, "ctrl+s")
    with open_store(studio) as store:
        assert f"{reading.every(store, Gauge)[0].at:%d %H:%M}" == "24 16:30"
        assert f"{only(store, Changeover).at:%d %H:%M}" == "25 09:05"
        assert f"{only(store, Cartridge).installed:%d %H:%M}" == "24 09:10"
        assert f"{only(store, Cleaning).at:%d %H:%M}" == "24 12:00"


async def test_an_exchange_of_a_time_when_the_other_black_was_loaded_is_refused(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "c", "ctrl+s", "c")
        await fill(pilot, "ended", "yesterday 16:30")
        await press(pilot, "ctrl+s")
        assert "matte was loaded then, not photo" in shown(pilot)
    with open_store(studio) as store:
        assert reading.count(store, Changeover) == 1


async def test_a_time_that_was_left_shows_what_was_understood(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "x")
        await fill(pilot, "at", "yesterday 4:30 pm")
        await press(pilot, "shift+tab")
        assert form(pilot).field("at").draft() == "2026-11-24 16:30"
