"""Fields typed as text: free text, and anything that is read out of text."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Any

from textual import on
from textual.app import ComposeResult
from textual.events import DescendantBlur

from logbook.records.units import (
    exact_length_text,
    exact_size_text,
    meant_unit,
    number_text,
    parse_border,
    parse_length,
    parse_size,
    shown_unit,
)
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.line import Line

DECIMALS = 6
FAR_OFF = 100_000


class TextField(Field):
    """Free text; empty is ``None``."""

    def __init__(
        self, name: str, label: str, value: Any = None, *, aside: str = "", placeholder: str = "", width: int = 32
    ) -> None:
        super().__init__(name, label, aside=aside)
        self._seen = self.as_draft(value)
        self.line = Line(self._seen, placeholder=placeholder, width=width)
        self.starts_with(value)

    def control(self) -> ComposeResult:
        yield self.line

    @property
    def text(self) -> str:
        """What stands in the line, without spaces at its ends."""
        return self.line.value.strip()

    @text.setter
    def text(self, text: str) -> None:
        self.line.value = text

    def read(self) -> Any:
        return self.text or None

    def as_draft(self, value: Any) -> Any:
        return value or ""

    def draft(self) -> Any:
        return self.line.value

    def restore(self, kept: Any) -> None:
        if isinstance(kept, str):
            self._seen = kept
            self.line.value = kept

    def focus(self, scroll_visible: bool = True) -> TextField:
        """Go into the line."""
        self.line.focus(scroll_visible)
        return self

    def select(self) -> None:
        self.line.action_select_all()

    @on(Line.Changed)
    def _typed(self, event: Line.Changed) -> None:
        event.stop()
        if event.value != self._seen:
            self._seen = event.value
            self.changed()


class ParsedField(TextField):
    """Text that is read as something else; what is not understood is said beside it when the line is left."""

    def __init__(
        self, name: str, label: str, parse: Callable[[str], Any], words: Callable[[Any], str] = str, value: Any = None, *,
        aside: str = "", placeholder: str = "", width: int = 16,
    ) -> None:  # fmt: skip
        self._parse, self._words = parse, words
        super().__init__(name, label, value, aside=aside, placeholder=placeholder, width=width)

    def read(self) -> Any:
        return self._parse(self.text) if self.text else None

    def as_draft(self, value: Any) -> Any:
        return "" if value is None else self._words(value)

    @on(DescendantBlur)
    def _left(self) -> None:
        problem = self.problem()
        if problem:
            self.set_aside(problem, wrong=True)
        elif self.has_class("-wrong"):
            self.set_aside(self._usual_aside)


def size_field(name: str, label: str, value_mm: tuple[float, float] | None = None) -> ParsedField:
    """Width and height: ``12x18in``, ``40×50cm``; without a unit mm, or inches where lengths are shown in them.

    Its value is (width_mm, height_mm).
    """
    example = "16x20in" if shown_unit() == "in" else "40x50cm"
    return ParsedField(
        name, label, partial(parse_size, unit=meant_unit()), lambda size: exact_size_text(*size), value_mm, placeholder=example
    )


def length_field(name: str, label: str, value_mm: float | None = None, *, aside: str = "", zero: bool = False) -> ParsedField:
    """A length: ``17 3/4 in``, ``25mm``; its value is in mm. ``zero``: nothing at all is a length too."""
    parse = partial(parse_border if zero else parse_length, unit=meant_unit())
    return ParsedField(name, label, parse, exact_length_text, value_mm, aside=aside)


def number_field(
    name: str, label: str, value: float | None = None, *, low: float | None = None, high: float | None = None,
    above: bool = False, whole: bool = False, aside: str = "",
) -> ParsedField:  # fmt: skip
    """A number from ``low`` (``above``: beyond it) to ``high``; its value is a float, or an int where it must be ``whole``."""

    def parse(text: str) -> float | int:
        try:
            number = int(text) if whole else float(text.replace(",", "."))
        except ValueError:
            raise ValueError(f"{text[:20]!r} is not a {'whole ' if whole else ''}number") from None
        under = low is not None and (number < low or (above and number == low))
        if not abs(number) < float("inf") or under or (high is not None and number > high):
            raise ValueError(f"{text[:20]} is not {_between(low, high, above=above)}")
        return number

    return ParsedField(name, label, parse, lambda number: number_text(number, DECIMALS), value, aside=aside, width=10)


def _between(low: float | None, high: float | None, *, above: bool) -> str:
    """The numbers that are taken; a limit that nobody would reach is not worth saying.

    >>> _between(0, 100, above=False), _between(0, 1e12, above=True), _between(1, None, above=False)
    ('0 to 100', 'above 0', '1 or more')
    """
    least = "" if low is None else f"above {number_text(low, 3)}" if above else number_text(low, 3)
    if high is None or high >= FAR_OFF:
        return "a finite number" if low is None else least if above else f"{least} or more"
    most = number_text(high, 3)
    return f"{most} or less" if low is None else f"{least} and at most {most}" if above else f"{least} to {most}"
