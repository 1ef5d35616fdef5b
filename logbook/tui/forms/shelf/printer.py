"""The form of the printer."""

from __future__ import annotations

from collections.abc import Iterable
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
from logbook.tui.widgets.fields.text_field import DECIMALS, ParsedField

LEAST_LINES = 10


class PrinterForm(RecordForm):
    """The printer: its width, its gauge, and its inks in the order of its display."""

    kind, called = Printer, "A printer"

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        if one.name != "inks":
            yield from super().widgets_of(one, value)
            return
        words = "Inks in the order of the display: name, ml of a full cartridge, price if you like."
        yield Static(words, classes="quiet", markup=False)
        inks = value or setup.starting_inks()
        for number in range(max(len(inks) + 1, LEAST_LINES)):
            yield InkField(number, inks[number] if number < len(inks) else None)

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
