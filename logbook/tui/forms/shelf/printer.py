"""The form of the printer."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.records.wording import ink_text
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import BLACKS
from logbook.tui.forms.shelf.saving import described, put
from logbook.tui.widgets.fields.choice_row import ChoiceRow, switch
from logbook.tui.widgets.fields.text_field import ParsedField, TextField, length_field, number_field

if TYPE_CHECKING:
    from logbook.records import Ink, Printer
    from logbook.store import Store
    from logbook.store.journal import Entry


class PrinterForm(Form):
    """The printer: its width, its inks in the order of its display, its gauge."""

    def __init__(self, known: Printer | None = None, heading: str = "", called: str = "") -> None:
        super().__init__()
        self.known = known
        self.called = known.name if known else called
        self.heading = heading or ("A printer" if known is None else f"The printer {plain(known.name)}")
        self.draft_name = f"printer {known.id[:32]}" if known else "" if called else "printer"

    @classmethod
    def named(cls, name: str) -> PrinterForm:
        """A new printer whose name was typed elsewhere."""
        return cls(heading=f"A new printer: {plain(name)}", called=name)

    def fields(self) -> Iterable[Widget]:
        from logbook.actions import setup

        known = self.known
        yield TextField("name", "name", self.called, placeholder="bench one, 24 in")
        yield length_field("max_width_mm", "widest paper", known.max_width_mm if known else setup.WIDTH_MM)
        gauge = known.gauge_step_percent if known else setup.GAUGE_STEP_PERCENT
        yield number_field(
            "gauge_step_percent", "gauge step", gauge, low=0.001, high=100, aside="% between two readings it can show"
        )
        yield switch(
            "shared_black_slot", "shared slot", known.shared_black_slot if known else True, aside="both blacks share one slot"
        )
        yield ChoiceRow("black_at_start", "loaded first", BLACKS, known.black_at_start if known else None)
        yield Static(
            "Inks in the order of the display: name, ml of a full cartridge, price if you like.", classes="quiet", markup=False
        )
        inks = known.inks if known else setup.starting_inks()
        for number in range(max(len(inks) + 1, 10)):
            yield ink_field(number, inks[number] if number < len(inks) else None)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Printer, new_id

        fields = {name: self.required(name) for name in ("name", "max_width_mm", "gauge_step_percent")}
        inks = tuple(ink for field in self.query(InkField) if (ink := self.value(field.name or "")) is not None)
        if not inks:
            raise Refused("ink_0", "a printer has at least one ink")
        shared = self.value("shared_black_slot")
        record_id = self.known.id if self.known else new_id()
        black = self.value("black_at_start")
        printer = described(
            lambda: Printer(id=record_id, inks=inks, shared_black_slot=shared is not False, black_at_start=black, **fields)
        )
        return put(printer)


class InkField(ParsedField):
    """One ink of a printer: ``cyan 80 39.50``."""


def ink_field(number: int, ink: Ink | None) -> InkField:
    """The field of the ink that stands at that place of the display."""
    shown = "" if ink is None else ink_words(ink)
    return InkField(f"ink_{number}", f"ink {number + 1}", parse_ink, shown, width=32)


def ink_words(ink: Ink) -> str:
    """What ``parse_ink`` reads back.

    >>> ink_words(parse_ink("light grey 80 39.5"))
    'light grey 80 39.5'
    """
    price = "" if ink.price is None else f" {number_text(ink.price, 4)}"
    return f"{ink_text(ink.ink)} {number_text(ink.nominal_ml, 3)}{price}"


def parse_ink(text: str) -> Ink:
    """An ink: its name in words, the millilitres of a full cartridge, and its price if known.

    >>> parse_ink("light grey 80").ink
    'light_grey'
    """
    from logbook.records import Ink

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
