"""Fields typed as text: free text, and anything that is read out of text."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.events import DescendantBlur

from logbook.records.units import exact_length_text, number_text, parse_border, parse_length, parse_size
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.line import Line


class TextField(Field):
    """Free text; empty is ``None``."""

    def __init__(
        self, name: str, label: str, value: str = "", *, aside: str = "", placeholder: str = "", width: int = 32
    ) -> None:
        super().__init__(name, label, aside=aside)
        self._first = value
        self.line = Line(value, placeholder=placeholder, width=width)

    def control(self) -> ComposeResult:
        yield self.line

    @property
    def text(self) -> str:
        """What stands in the line, without spaces at its ends."""
        return self.line.value.strip()

    @text.setter
    def text(self, text: str) -> None:
        self.line.value = text

    @property
    def value(self) -> Any:
        return self.text or None

    def draft(self) -> Any:
        return self.line.value

    def restore(self, kept: Any) -> None:
        if isinstance(kept, str):
            self._first = kept
            self.line.value = kept

    def focus(self, scroll_visible: bool = True) -> TextField:
        """Go into the line."""
        self.line.focus(scroll_visible)
        return self

    @on(Line.Changed)
    def _typed(self, event: Line.Changed) -> None:
        event.stop()
        if event.value != self._first:
            self._first = event.value
            self.changed()


class ParsedField(TextField):
    """Text that is read as something else; what is not understood is said beside it when the line is left."""

    def __init__(
        self, name: str, label: str, parse: Callable[[str], Any], value: str = "", *, aside: str = "",
        placeholder: str = "", width: int = 16,
    ) -> None:  # fmt: skip
        super().__init__(name, label, value, aside=aside, placeholder=placeholder, width=width)
        self._parse = parse

    @property
    def value(self) -> Any:
        return self._parse(self.text) if self.text else None

    @on(DescendantBlur)
    def _left(self) -> None:
        problem = self.problem()
        if problem:
            self.set_aside(problem, wrong=True)
        elif self.has_class("-wrong"):
            self.set_aside(self._usual_aside)


def size_field(name: str, label: str, value: str = "", *, aside: str = "") -> ParsedField:
    """Width and height: ``12x18in``, ``40×50cm``, ``305x457``; its value is (width_mm, height_mm)."""
    return ParsedField(name, label, parse_size, value, aside=aside, placeholder="40x50cm")


def length_field(name: str, label: str, value_mm: float | None = None, *, aside: str = "", zero: bool = False) -> ParsedField:
    """A length: ``17 3/4 in``, ``25mm``; its value is in mm. ``zero``: nothing at all is a length too."""
    shown = "" if value_mm is None else exact_length_text(value_mm)
    return ParsedField(name, label, parse_border if zero else parse_length, shown, aside=aside)


def number_field(
    name: str, label: str, value: float | None = None, *, low: float | None = None, high: float | None = None,
    whole: bool = False, aside: str = "",
) -> ParsedField:  # fmt: skip
    """A number between ``low`` and ``high``; its value is a float, or an int where it must be ``whole``."""

    def parse(text: str) -> float | int:
        try:
            number = int(text) if whole else float(text.replace(",", "."))
        except ValueError:
            raise ValueError(f"{text[:20]!r} is not a {'whole ' if whole else ''}number") from None
        if not abs(number) < float("inf") or (low is not None and number < low) or (high is not None and number > high):
            raise ValueError(f"{text[:20]} is not {_between(low, high)}")
        return number

    return ParsedField(name, label, parse, "" if value is None else number_text(value, 3), aside=aside, width=10)


def _between(low: float | None, high: float | None) -> str:
    if low is not None and high is not None:
        return f"{number_text(low, 3)} to {number_text(high, 3)}"
    if low is not None:
        return f"{number_text(low, 3)} or more"
    return f"{number_text(high, 3)} or less" if high is not None else "a finite number"


def date_field(name: str, label: str, value: date | None = None, *, today: date, aside: str = "") -> ParsedField:
    """A day: ``2026-12-03``, ``3.12.``, ``+10`` (days from today); its value is a ``date``."""
    shown = value.isoformat() if value else ""
    return ParsedField(name, label, lambda text: parse_day(text, today), shown, aside=aside, placeholder="2026-12-03")


def parse_day(text: str, today: date) -> date:
    """The day that was typed: an ISO date, day and month (the next such day), or ``+`` and a number of days.

    >>> parse_day("3.12.", date(2026, 11, 25)), parse_day("+8", date(2026, 11, 25))
    (datetime.date(2026, 12, 3), datetime.date(2026, 12, 3))
    """
    typed = text.strip()
    try:
        if typed.startswith("+"):
            return date.fromordinal(today.toordinal() + int(typed[1:]))
        if "-" in typed:
            return date.fromisoformat(typed)
        day, month, *year = (int(part) for part in typed.strip(".").replace("/", ".").split("."))
        if year:
            return date(year[0], month, day)
        this_year = date(today.year, month, day)
        return this_year if this_year >= today else date(today.year + 1, month, day)
    except (ValueError, OverflowError):
        raise ValueError(f"{typed[:20]!r} is not a day: type 2026-12-03, 3.12. or +8") from None
