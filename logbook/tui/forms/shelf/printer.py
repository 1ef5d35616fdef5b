"""The form of the printer."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import setup
from logbook.records import Ink, Printer
from logbook.records.declared import Declared
from logbook.records.refusal import Refused
from logbook.records.units import number_text
from logbook.records.wording import ink_text
from logbook.tui.forms.record_form import RecordForm
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.text_field import DECIMALS, ParsedField

LEAST_LINES = 13
ALL_INKS = "all_inks"
BLACKS = ("matte_black", "photo_black")
#: How inks are written short; common practice, no source.
SHORT = {"mk": "matte_black", "pk": "photo_black", "c": "cyan", "m": "magenta", "y": "yellow", "lc": "light_cyan",
         "lm": "light_magenta", "g": "grey", "gy": "grey", "lg": "light_grey", "lgy": "light_grey"}  # fmt: skip


class PrinterForm(RecordForm):
    """The printer: its width, its gauge, and its inks in the order of its display."""

    kind, called = Printer, "A printer"

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        if one.name != "inks":
            yield from super().widgets_of(one, value)
            return
        words = "All inks on one line in the order of the display, with the ml of a full cartridge and its price if you like;"
        yield Static(f"{words} then each by itself.", classes="quiet", markup=False)
        yield ParsedField(ALL_INKS, "all inks", parse_inks, placeholder="both blacks, c, m, y, light grey 80", width=48)
        inks = value or setup.starting_inks()
        for number in range(max(len(inks) + 1, LEAST_LINES)):
            yield InkField(number, inks[number] if number < len(inks) else None)

    def on_change(self, field: Field) -> None:
        """The inks on one line fill the lines of each; what cannot be read yet fills none."""
        inks: Sequence[Ink] = (self.value_or_none(ALL_INKS) or ()) if field.name == ALL_INKS else ()
        for number, one in enumerate(self.query(InkField) if inks else ()):
            one.restore(one.as_draft(inks[number] if number < len(inks) else None))

    def is_meant(self, one: Declared) -> bool:
        if one.name != "inks":
            return super().is_meant(one)
        return self.model.known is None or any(field.touched for field in self.query(InkField))

    def value_of(self, one: Declared) -> Any:
        if one.name != "inks":
            return super().value_of(one)
        inks = tuple(ink for field in self.query(InkField) if (ink := self.value(str(field.name))) is not None)
        if not inks:
            raise Refused("ink_0", "a printer has at least one ink")
        return inks


def parse_inks(text: str) -> tuple[Ink, ...]:
    """Inks told apart by commas, the volume (and price) of a full cartridge behind the last one or behind each.

    >>> [ink.ink for ink in parse_inks("both blacks, c, m, light grey 80")]
    ['matte_black', 'photo_black', 'cyan', 'magenta', 'light_grey']
    >>> [ink.nominal_ml for ink in parse_inks("mk 160, pk, c 80")]
    [160.0, 80.0, 80.0]
    """
    inks: list[Ink] = []
    numbers = ""
    for part in reversed([part.strip() for part in text.split(",") if part.strip()]):
        words = part.split()
        own = [word for word in words if _number(word) is not None]
        numbers = " ".join(own) or numbers
        name = " ".join(word for word in words if word not in own).casefold()
        names = reversed(BLACKS) if name in ("both blacks", "blacks") else (SHORT.get(name, name),)
        inks = [*reversed([parse_ink(f"{one.replace('_', ' ')} {numbers}") for one in names]), *inks]
    if len(inks) > LEAST_LINES:
        raise ValueError(f"there is room for {LEAST_LINES} inks here")
    return tuple(inks)


class InkField(ParsedField):
    """The ink at one place of the display: ``cyan 80 39.50``."""

    def __init__(self, number: int, ink: Ink | None) -> None:
        super().__init__(f"ink_{number}", f"ink {number + 1}", parse_ink, ink_words, ink, width=32)


def ink_words(ink: Ink) -> str:
    """What ``parse_ink`` reads back.

    >>> ink_words(parse_ink("light grey 80 39.5"))
    'light grey 80 39.5'
    """
    price = "" if ink.price is None else f" {number_text(ink.price, DECIMALS)}"
    return f"{ink_text(ink.ink)} {number_text(ink.nominal_ml, DECIMALS)}{price}"


def parse_ink(text: str) -> Ink:
    """An ink: its name in words, the millilitres of a full cartridge, and its price if known.

    >>> parse_ink("light grey 80").ink
    'light_grey'
    """
    words = text.split()
    numbers: list[float] = []
    while words and (number := _number(words[-1])) is not None:
        numbers.insert(0, number)
        words.pop()
    if not words or len(numbers) not in (1, 2):
        raise ValueError(f"{text.strip()[:30]!r}: type a name, millilitres, and a price if you like")
    if numbers[0] <= 0 or any(number < 0 for number in numbers):
        raise ValueError("a cartridge holds more than nothing")
    return Ink(ink="_".join(words), nominal_ml=numbers[0], price=numbers[1] if len(numbers) > 1 else None)


def _number(text: str) -> float | None:
    try:
        number = float(text.replace(",", "."))
    except ValueError:
        return None
    return number if abs(number) < 1e12 else None
