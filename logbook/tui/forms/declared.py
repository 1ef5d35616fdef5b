"""A field of a form for a field that a record, or a setting of a print, declares."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING, Any

from logbook.records.declared import Declared
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.day_field import date_field, moment_field
from logbook.tui.widgets.fields.picker import Option, PickerField, WordsField
from logbook.tui.widgets.fields.text_field import TextField, length_field, number_field
from logbook.tui.widgets.fields.turn_field import TurnField

if TYPE_CHECKING:
    from logbook.tui.widgets.fields.field import Field

USUAL_WIDTH, NOTE_WIDTH = 32, 48
UNSAID = "not noted"
NEW_NAMES = {"stock": "roll or box"}
"""What a new thing is called where its kind is not a word people say."""


def field_for(
    one: Declared,
    value: Any,
    now: datetime,
    *,
    options: Sequence[Option] | None = None,
    words: Sequence[str] | None = None,
    described: bool = False,
    width: int = USUAL_WIDTH,
    taken: set[str] | None = None,
) -> Field:
    """The field in which a value of ``one`` is typed or chosen.

    ``options`` are what a reference is picked from, ``words`` the texts used before; a new name of a ``described`` kind asks
    for the rest. Of each word to choose a letter that is not ``taken`` chooses it from anywhere in the form.
    """
    label, aside = one.in_a_form, one.aside
    if words is not None:
        return WordsField(one.name, label, words, value, aside=aside, width=width)
    match one.kind:
        case "choice" | "truth":
            return ChoiceRow(one.name, label, choices(one, taken), value, required=_always(one), aside=aside)
        case "reference":
            new = NEW_NAMES.get(one.refers, one.refers)
            return PickerField(one.name, label, options or (), value, new=new, described=described, aside=aside, width=width)
        case "length":
            return length_field(one.name, label, value, zero=not one.above, aside=aside)
        case "number" | "whole":
            whole = one.kind == "whole"
            return number_field(one.name, label, value, low=one.low, high=one.high, above=one.above, whole=whole, aside=aside)
        case "time":
            return moment_field(one.name, label, value, now=now, aside=aside, placeholder="now" if one.required else "")
        case "day":
            past, empty = one.required or one.say.later, "today" if one.required else "4 dec, fri, +8"
            return date_field(one.name, label, value, today=now.date(), past=past, aside=aside, placeholder=empty)
        case _:
            wide = NOTE_WIDTH if one.name == "note" and width == USUAL_WIDTH else width
            return TextField(one.name, label, value, placeholder=one.say.example, width=wide, aside=aside)


def turning_field_for(one: Declared, value: Any) -> TurnField:
    """A field that turns through the values of ``one``, for little room."""
    unsaid = () if _always(one) else (Choice(None, UNSAID),)
    return TurnField(one.name, one.in_a_form, (*choices(one), *unsaid), value, aside=one.aside)


def choices(one: Declared, taken: set[str] | None = None) -> list[Choice]:
    """What there is to choose from."""
    return [Choice(value, one.word(value), _letter(one.word(value), taken)) for value in one.choices or (True, False)]


def _letter(word: str, taken: set[str] | None) -> str:
    """The first letter of a word that is not taken, which takes it."""
    letter = "" if taken is None else next((sign for sign in word if sign.isalpha() and sign not in taken), "")
    if taken is not None:
        taken.add(letter)
    return letter


def _always(one: Declared) -> bool:
    """Whether it always holds one of its values."""
    return one.default is not None
