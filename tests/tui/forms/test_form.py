"""A form: its keys, its draft, its clashes, and what happens when it is saved or refused."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

import pytest
from textual import events
from textual.widget import Widget

from logbook.records import Light, new_id
from logbook.records.refusal import Refused
from logbook.store import Store, drafts, journal, reading
from logbook.store.journal import Entry
from logbook.tui.forms import form
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.numbers_row import Column, NumbersRow
from logbook.tui.widgets.fields.picker import New, Option, PickerField
from logbook.tui.widgets.fields.text_field import TextField, number_field, size_field
from logbook.tui.widgets.fields.thirds_row import ThirdsRow
from tests.tui.conftest import Opened
from tests.tui.screens import app_of, press, settled, shown

PAPERS = (Option("rag", "Tideway Rag 310"), Option("baryta", "Harbour Baryta"), Option("tide", "Tideway"))


class LightForm(Form):
    """A light, with one field of every sort."""

    heading = "A light"
    draft_name = "light"

    def fields(self) -> Iterable[Widget]:
        yield TextField("name", "name")
        yield number_field("illuminance_lx", "illuminance", low=0, aside="lx")
        yield size_field("size", "size")
        yield PickerField("paper", "paper", PAPERS, new="paper")
        yield ChoiceRow("verdict", "verdict", [Choice("keep", "keep", "k"), Choice("redo", "redo", "r")])
        yield ChoiceRow("flaws", "flaws", [Choice("dust", "dust", "d"), Choice("blotch", "blotch", "b")], several=True)
        yield ThirdsRow()
        yield NumbersRow("levels", "levels", [Column("cyan", "cyan", 40), Column("grey", "grey")])

    def clashes(self) -> Sequence[str]:
        return ["no lamp is that bright"] if (self.value_or_none("illuminance_lx") or 0) > 100_000 else []

    def act(self) -> Callable[[Store], Entry]:
        light = Light(id=new_id(), name=self.required("name"), illuminance_lx=self.value("illuminance_lx"))
        if light.name == "sun":
            raise Refused("name", "the sun is no lamp")
        return lambda store: journal.write(store, f"Light {light.name} noted", save=[light])


def field(pilot: object, name: str) -> Field:
    screen = app_of(pilot).screen  # type: ignore[arg-type]
    assert isinstance(screen, Form)
    return screen.field(name, Field)


async def test_saving_says_what_was_saved_and_how_to_undo_it(opened: Opened) -> None:
    async with opened() as pilot:
        app = app_of(pilot)
        await LightForm().open_over(app)
        await press(pilot, *"wall", "tab", *"480", "enter")
        assert "Light wall noted · u undoes it" in shown(pilot)
        assert [light.name for light in await app.desk.run(lambda store: reading.every(store, Light))] == ["wall"]
        await press(pilot, "u")
        assert "Undone: Light wall noted · U does it again" in shown(pilot)
        assert await app.desk.run(lambda store: reading.every(store, Light)) == []
        await press(pilot, "U")
        assert "Done again: Light wall noted" in shown(pilot)


async def test_digits_and_letters_typed_into_a_field_open_no_place(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"q2u?:jk")
        assert field(pilot, "name").value == "q2u?:jk"
        assert app_of(pilot).current_mode == "today"


async def test_a_half_filled_form_survives_the_program_being_closed(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"wal", "tab", "tab", *"40x50cm", "tab", *"tid", "tab", "r", "2")
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await settled(pilot)
        assert field(pilot, "name").value == "wal"
        assert field(pilot, "size").value == (400, 500)
        assert field(pilot, "paper").value == "rag"
        assert field(pilot, "verdict").value == "redo"
        assert field(pilot, "darkness").value == -2
        await press(pilot, *"l", "enter")
        assert await app_of(pilot).desk.run(lambda store: drafts.read(store, "light")) is None


async def test_a_key_pressed_the_moment_a_form_opens_is_kept(opened: Opened) -> None:
    async with opened() as pilot:
        app = app_of(pilot)
        await LightForm().open_over(app)
        app.post_message(events.Key("s", "s"))
        app.post_message(events.Key("escape", None))
        await settled(pilot)
        kept = await app.desk.run(lambda store: drafts.read(store, "light"))
        assert kept is not None
        assert kept["name"] == "s"


async def test_leaving_keeps_the_form_and_giving_up_forgets_it(opened: Opened) -> None:
    async with opened() as pilot:
        app = app_of(pilot)
        await LightForm().open_over(app)
        await press(pilot, *"wal", "escape")
        assert not isinstance(app.screen, Form)
        await LightForm().open_over(app)
        await settled(pilot)
        assert field(pilot, "name").value == "wal"
        await press(pilot, "f9")
        assert await app.desk.run(lambda store: drafts.read(store, "light")) is None


async def test_a_form_left_untouched_leaves_no_draft(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, "escape")
        assert await app_of(pilot).desk.run(lambda store: drafts.read(store, "light")) is None


async def test_a_refusal_goes_to_its_field_and_keeps_the_form(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"sun", "tab", "enter")
        assert "the sun is no lamp" in shown(pilot)
        focused = app_of(pilot).focused
        assert focused is not None and focused.parent is field(pilot, "name")


async def test_what_is_not_understood_is_said_when_the_field_is_left(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"wall", "tab", *"bright", "tab")
        assert "'bright' is not a number" in shown(pilot)


async def test_clashes_are_shown_while_typing_and_do_not_forbid_saving(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, *"wall", "tab", *"200000")
        assert "! no lamp is that bright" in shown(pilot)
        await press(pilot, "enter")
        assert "Light wall noted" in shown(pilot)


async def test_the_picker_completes_and_makes_what_is_missing(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, "tab", "tab", "tab", *"tide")
        lines = shown(pilot).splitlines()
        line = next(at for at, line in enumerate(lines) if line.startswith(" paper"))
        assert "Tideway Rag 310" in lines[line + 1] and "new paper: tide" in lines[line + 3]
        await press(pilot, "down", "down", "enter")
        assert field(pilot, "paper").value == "tide"
        await press(pilot, "home", "shift+end", *"gloss")
        await press(pilot, "tab")
        assert field(pilot, "paper").value == New("gloss")


async def test_choices_thirds_and_numbers_take_their_keys(opened: Opened) -> None:
    async with opened() as pilot:
        await LightForm().open_over(app_of(pilot))
        await press(pilot, "tab", "tab", "tab", "tab", "k", "d", "b", "minus")
        assert (field(pilot, "verdict").value, field(pilot, "flaws").value, field(pilot, "darkness").value) == (
            "keep", ("dust", "blotch"), -1,
        )  # fmt: skip
        assert "one third darker" in shown(pilot)
        await press(pilot, "plus", "plus", "4")
        assert field(pilot, "darkness").value == 4
        await press(pilot, "tab", "tab", "tab", *"38", "space", *"77.5")
        assert field(pilot, "levels").value == {"cyan": 38, "grey": 77.5}


class FailingForm(LightForm):
    """A form with a fault in its code."""

    draft_name = ""

    def after_fill(self) -> None:
        raise ZeroDivisionError("a fault of ours")


async def test_a_form_that_fails_as_it_opens_ends_the_program_and_does_not_hold_it(
    opened: Opened, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(form, "SECONDS_TO_FILL_A_FORM", 0.1)
    with pytest.raises(ZeroDivisionError):
        async with opened() as pilot:
            await FailingForm().open_over(app_of(pilot))
            await pilot.pause()
