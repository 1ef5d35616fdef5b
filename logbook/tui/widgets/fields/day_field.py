"""Fields in which a day or a moment is typed."""

from __future__ import annotations

from datetime import date, datetime
from functools import partial
from typing import Any

from textual import on
from textual.events import DescendantBlur

from logbook.records.days import DAY_SHOWN, TIME_SHOWN, parse_day, parse_moment
from logbook.tui.widgets.fields.text_field import ParsedField


class WhenField(ParsedField):
    """A day or a moment as people write it; once it is left it shows which one was understood."""

    how = "as you would write it: today, yesterday 16:30, 4 dec, 3.12., fri, +8"

    @on(DescendantBlur)
    def _understood(self) -> None:
        if self.touched and not self.problem() and self.value is not None:
            shown = self.as_draft(self.value)
            if self._parse(shown) == self.value:  # an offset of its own would be lost
                self.line.value = shown


def date_field(
    name: str, label: str, value: date | None = None, *, today: date, past: bool = False, aside: str = "",
    placeholder: str = "4 dec, fri, +8",
) -> ParsedField:  # fmt: skip
    """A day: ``4 dec``, ``3.12.``, ``fri``, ``+10`` (days from today), with ``past`` the last such; its value is a ``date``."""
    return WhenField(
        name, label, partial(parse_day, today=today, past=past), _day_text, value, aside=aside, placeholder=placeholder
    )


def moment_field(
    name: str, label: str, value: datetime | None = None, *, now: datetime, aside: str = "", placeholder: str = "now"
) -> ParsedField:
    """A moment: ``14:02`` today, ``yesterday 16:30``, a day; its value is a ``datetime`` with its offset."""
    return WhenField(
        name, label, partial(parse_moment, now=now), _moment_text, value, aside=aside, placeholder=placeholder, width=17
    )


def _day_text(day: Any) -> str:
    return f"{day:{DAY_SHOWN}}"


def _moment_text(at: Any) -> str:
    return f"{at:{TIME_SHOWN}}"
