"""Logging prints by keys: filled from the last one, completed, clashes shown, drafts kept."""

from __future__ import annotations

from pathlib import Path

import msgspec

from logbook.records import Order, Picture
from logbook.snapshot import take
from logbook.snapshot.foretold import foretold
from logbook.store import journal, open_store, reading
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import PickerField
from tests.studio import MORNING, SETTINGS, print_out, sheet
from tests.tui.conftest import Opened
from tests.tui.forms.filling import fill, form, prints, value
from tests.tui.screens import app_of, press, settled, shown


async def test_two_keys_log_one_more_print_like_the_last(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "l", "enter")
        assert "#0003 Winter Groyne, 30×40 cm logged · u undoes it" in shown(pilot)
    *_, last, new = prints(studio)
    assert (new.settings, new.picture, new.stock) == (last.settings, last.picture, last.stock)
    assert new.at.isoformat() == "2026-11-25T14:30:00+01:00"


async def test_one_more_like_the_print_under_the_cursor(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "down", "l", "enter")
    assert prints(studio)[-1].picture == "ebb"


async def test_a_logged_print_is_undone_and_done_again(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "l", "enter", "u")
        assert len(prints(studio)) == 2
        await press(pilot, "U")
        assert len(prints(studio)) == 3


async def test_another_print_types_only_what_differs_and_makes_its_picture(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "picture", "Low Water")
        assert "new picture: Low Water" in shown(pilot)
        await press(pilot, "enter")
        await fill(pilot, "size", "12x18in")
        await fill(pilot, "note", "[bold]hung in the hall[/]")
        await press(pilot, "enter")
        assert "#0003 Low Water" in shown(pilot)
    new = prints(studio)[-1]
    assert (new.width_mm, new.height_mm, new.note) == (304.8, 457.2, "[bold]hung in the hall[/]")
    assert new.settings == SETTINGS
    with open_store(studio) as store:
        assert [picture.title for picture in reading.every(store, Picture)][-1] == "Low Water"


async def test_an_order_goes_on_to_the_next_print_of_the_same_picture_only(opened: Opened, studio: Path) -> None:
    with open_store(studio) as store:
        order = Order(id="o", title="Two for the hall", prints=4, paper="rag", taken=MORNING.date())
        last = msgspec.structs.replace(prints(studio)[-1], order="o")
        journal.write(store, "an order", save=[order, last])
    async with opened(studio) as pilot:
        await press(pilot, "n")
        assert value(pilot, "order") == "o"
        await fill(pilot, "picture", "Low Water")
        assert value(pilot, "order") is None
        await fill(pilot, "picture", "Winter Groyne")
        assert value(pilot, "order") == "o"
        await fill(pilot, "picture", "Low Water")
        await press(pilot, "ctrl+s")
    assert [one.order for one in prints(studio)][-2:] == ["o", None]


async def test_the_sheet_and_the_roll_show_while_a_size_is_typed(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        assert "The sheet is 33×43 cm, takes 33 cm of the roll and leaves 2.01 m." in shown(pilot)
        await fill(pilot, "size", "35x50cm")
        assert "The sheet is 38×53 cm, takes 53 cm of the roll and leaves 1.81 m." in shown(pilot)
        await fill(pilot, "size", "17 3/4")
        assert "Type a size" in shown(pilot)


async def test_clashes_show_before_saving_and_do_not_forbid_it(opened: Opened, studio: Path) -> None:
    async with opened(studio, size=(120, 36)) as pilot:
        await press(pilot, "n")
        await fill(pilot, "paper", "harb")
        await press(pilot, "tab")
        assert "! Harbour Baryta needs photo black, and matte is loaded" in shown(pilot)
        await fill(pilot, "scale_percent", "97")
        await fill(pilot, "size", "60x70cm")
        screen = shown(pilot)
        assert "the sheet is 63 cm across, and the printer takes 61 cm" in screen
        assert "the scale is 97 %" in screen
        await press(pilot, "enter")
        assert "#0003" in shown(pilot)
    assert prints(studio)[-1].paper == "baryta"


async def test_another_paper_brings_its_own_roll_and_settings_but_not_over_what_was_typed(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "shadow_lift", "9")
        await fill(pilot, "paper", "Harbour Baryta")
        await press(pilot, "tab")
        assert value(pilot, "stock") == "glossy-roll"
        assert value(pilot, "shadow_lift") == 9
        assert value(pilot, "profile") is None
        assert value(pilot, "resolution_dpi") == 720


async def test_another_attempt_points_at_its_print_and_shows_what_was_changed(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "a")
        assert "Nothing differs from it yet." in shown(pilot)
        await press(pilot, "end", "ctrl+u", "9")
        assert "Differs from it: shadow lift 6 → 9." in shown(pilot)
        await press(pilot, "enter")
    new = prints(studio)[-1]
    assert (new.attempt_of, new.settings["shadow_lift"]) == ("two", 9)


async def test_free_settings_are_kept_changed_and_added(opened: Opened, studio: Path) -> None:
    async with opened(studio, size=(120, 40)) as pilot:
        await press(pilot, "n")
        await fill(pilot, "further", "platen gap=wide; warm-up=on")
        await press(pilot, "enter", "n")
        assert value(pilot, "free_706c6174656e20676170") == "wide"
        await fill(pilot, "free_706c6174656e20676170", "2.5")
        await press(pilot, "enter")
    before, after = prints(studio)[-2:]
    assert before.settings == {**SETTINGS, "platen gap": "wide", "warm-up": True}
    assert after.settings == {**SETTINGS, "platen gap": 2.5, "warm-up": True}


async def test_turning_fields_turn_by_arrows_and_letters(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        form(pilot).field("intent").focus()
        await press(pilot, "p")
        assert value(pilot, "intent") == "perceptual"
        await press(pilot, "right", "right")
        assert value(pilot, "intent") == "absolute"
        await press(pilot, "delete", "down", "o")
        assert value(pilot, "intent") is None
        assert value(pilot, "black_point_compensation") is False
        await press(pilot, "enter")
    assert prints(studio)[-1].settings["black_point_compensation"] is False


async def test_a_half_filled_print_survives_a_closed_terminal(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "note", "half a thou")
        await pilot.app.run_action("quit")
    async with opened(studio) as pilot:
        await press(pilot, "n")
        assert value(pilot, "note") == "half a thou"
        assert "Filled in as you left it" in shown(pilot)
        await press(pilot, "f9", "n")
        assert value(pilot, "note") is None


async def test_a_draft_of_another_print_does_not_touch_one_more_like_the_last(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "note", "not this one")
        await press(pilot, "escape", "l", "enter")
    assert prints(studio)[-1].note is None


async def test_correcting_a_print_changes_only_what_was_typed(opened: Opened, studio: Path) -> None:
    before = prints(studio)[-1]
    async with opened(studio) as pilot:
        await press(pilot, "e")
        await fill(pilot, "note", "curled")
        await press(pilot, "enter")
        assert "#0002 Winter Groyne, 30×40 cm changed" in shown(pilot)
        after = prints(studio)[-1]
        assert (after.note, after.at, after.settings) == ("curled", before.at, before.settings)
        await press(pilot, "u")
        assert prints(studio)[-1] == before


async def test_of_two_pictures_with_one_title_a_corrected_print_keeps_its_own(opened: Opened, studio: Path) -> None:
    with open_store(studio) as store:
        journal.write(store, "a namesake", save=[Picture(id="namesake", title="Winter Groyne")])
    async with opened(studio) as pilot:
        await press(pilot, "e")
        await fill(pilot, "note", "curled")
        await press(pilot, "enter")
    assert (prints(studio)[-1].note, prints(studio)[-1].picture) == ("curled", "groyne")


async def test_what_makes_no_sense_is_said_at_its_field_and_nothing_is_saved(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        for name, text, said in (
            ("size", "large", "is not a size"),
            ("edition_number", "9/3", "an edition counts from 1 to its size"),
            ("at", "noon", "is no time"),
            ("further", "gap", "type name=value"),
            ("shadow_lift", "900", "is not 0 to 64"),
        ):
            kept = form(pilot).field(name, Field).draft()
            await fill(pilot, name, text)
            await press(pilot, "ctrl+s")
            assert said in shown(pilot)
            form(pilot).field(name, Field).restore(kept)
        await press(pilot, "ctrl+s")
    assert len(prints(studio)) == 3


async def test_advice_says_what_to_expect_or_why_it_cannot(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n", "f2")
        assert "A next print on Tideway Rag 310, set like this" in shown(pilot)
        await press(pilot, "escape", "escape")
        assert app_of(pilot).current_mode == "today"


async def test_without_anything_set_up_the_form_says_what_is_missing(opened: Opened, tmp_path: Path) -> None:
    async with opened(tmp_path / "empty.db") as pilot:
        await press(pilot, "l")
        assert "there is no print yet" in shown(pilot)
        await press(pilot, "n", "ctrl+s")
        assert "is still missing" in shown(pilot)


async def test_what_a_field_offered_goes_when_the_field_is_left(opened: Opened, studio: Path) -> None:
    async with opened(studio) as pilot:
        await press(pilot, "n")
        form(pilot).field("picture", Field).focus()
        await press(pilot, "E")
        assert "new picture: E" in shown(pilot)
        form(pilot).field("note", Field).focus()
        await settled(pilot)
        assert "new picture: E" not in shown(pilot)


async def test_another_picture_brings_its_own_size_and_edition_unless_one_is_typed(opened: Opened, studio: Path) -> None:
    with open_store(studio) as store:
        journal.write(store, "a picture", save=[Picture(id="lying", title="Slack Water", width_px=6000, height_px=4000)])
        print_out(store, sheet("numbered", hours=2, edition_number=3, edition_size=9))
    async with opened(studio) as pilot:
        await press(pilot, "n")
        assert (value(pilot, "size"), value(pilot, "edition_number")) == ((300, 400), (4, 9))
        form(pilot).field("picture", PickerField).choose("lying")
        form(pilot).on_change(form(pilot).field("picture", Field))
        await settled(pilot)
        await press(pilot, "tab")
        assert (value(pilot, "size"), value(pilot, "edition_number")) == ((400, 267), None)
        form(pilot).field("picture", PickerField).choose("ebb")
        form(pilot).on_change(form(pilot).field("picture", Field))
        await settled(pilot)
        await press(pilot, "tab")
        assert (value(pilot, "size"), value(pilot, "edition_number")) == ((300, 400), (4, 9))


async def test_another_paper_brings_the_size_and_edition_of_this_picture_on_it(opened: Opened, studio: Path) -> None:
    with open_store(studio) as store:
        glossy = {"paper": "baryta", "stock": "glossy-roll"}
        print_out(
            store,
            sheet("small", hours=2, width_mm=200.0, height_mm=250.0, edition_number=1, edition_size=5, **glossy),
            sheet("other", hours=3, picture="groyne", width_mm=600.0, height_mm=500.0, **glossy),
            sheet("numbered", hours=4, edition_number=3, edition_size=9),
        )
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "paper", "harb")
        await press(pilot, "tab")
        assert (value(pilot, "size"), value(pilot, "edition_number")) == ((200, 250), (2, 5))
        await fill(pilot, "size", "30x40cm")
        await fill(pilot, "paper", "tide")
        await press(pilot, "tab")
        assert (value(pilot, "size"), value(pilot, "edition_number")) == ((300, 400), (4, 9))
        await fill(pilot, "size", "90x120mm")
        await fill(pilot, "paper", "harb")
        await press(pilot, "tab")
        assert value(pilot, "size") == (90, 120), "a size that was typed stays"


async def test_on_a_paper_where_the_picture_is_new_it_is_as_large_as_the_last_print_there_and_of_its_own_shape(
    opened: Opened, studio: Path
) -> None:
    with open_store(studio) as store:
        lying = {"picture": "groyne", "width_mm": 500.0, "height_mm": 400.0}
        print_out(
            store,
            sheet("there", hours=2, paper="baryta", stock="glossy-roll", width_mm=200.0, height_mm=250.0),
            sheet("here", hours=3, **lying),
        )
    async with opened(studio) as pilot:
        await press(pilot, "n")
        await fill(pilot, "paper", "harb")
        await press(pilot, "tab")
        assert value(pilot, "size") == (250, 200)


async def test_what_was_said_of_a_print_is_kept_as_it_is_logged(opened: Opened, demo_copy: Path) -> None:
    async with opened(demo_copy) as pilot:
        await press(pilot, "l")
        await app_of(pilot).workers.wait_for_complete([one for one in app_of(pilot).workers if one.group == "expect"])
        assert "will come out" in shown(pilot)
        await press(pilot, "enter")
    with open_store(demo_copy) as store:
        [told] = foretold(take(store))
    made = prints(demo_copy)[-1]
    assert told.print == made.id
    assert told.low < told.high
    assert told.done == made.settings.get("brighten_stops", 0.0)
