"""How a print is written on one line of the history."""

from __future__ import annotations

from datetime import date, datetime
from typing import TYPE_CHECKING

from textual.content import Content

from logbook.records.darkness import thirds_in_words, thirds_text
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.reports.what_differed import settings_changed
from logbook.tui.widgets.columns import Column, headings, line

if TYPE_CHECKING:
    from logbook.store.history import Line

WIDE = 108
NARROW_COLUMNS = (
    Column("no.", 4, right=True),
    Column("printed", 9),
    Column("picture", 14, share=3),
    Column("try", 3),
    Column("paper", 12, share=2),
    Column("size cm", 9, right=True),
    Column("result", 6),
    Column("seen", 4, right=True),
)
WIDE_COLUMNS = (
    Column("no.", 5, right=True),
    Column("printed", 12),
    Column("picture", 16, share=4),
    Column("try", 4),
    Column("paper", 14, share=2),
    Column("size cm", 9, right=True),
    Column("what differed", 14, share=4),
    Column("result", 6),
    Column("seen", 15, share=1),
)
_ORDINALS = {1: "1st", 2: "2nd", 3: "3rd"}


def heading_line(width: int) -> Content:
    """The headings above the list, which has a cell for the cursor before each line."""
    return Content.assemble(" ", headings(_columns(width), width - 1))


def print_line(row: Line, width: int, today: date) -> Content:
    """One print in ``width`` cells."""
    columns = _columns(width + 1)
    return line(columns, _wide(row, today) if columns is WIDE_COLUMNS else _narrow(row, today), width)


def _columns(width: int) -> tuple[Column, ...]:
    return WIDE_COLUMNS if width >= WIDE else NARROW_COLUMNS


def _narrow(row: Line, today: date) -> list[str | Content]:
    seen = "" if row.darkness is None else thirds_text(row.darkness)
    return [*_first(row, when(row.at, today)), _result(row), seen]


def _wide(row: Line, today: date) -> list[str | Content]:
    seen = "" if row.darkness is None else thirds_in_words(row.darkness)
    differed = Content.styled(plain(settings_changed(row.before, row.settings)), "$quiet")
    return [*_first(row, when(row.at, today, long=True)), differed, _result(row), seen]


def _first(row: Line, printed: str) -> list[str | Content]:
    purpose = "" if row.purpose == "final" else f" · {row.purpose}"
    return [
        f"{row.number:04d}",
        Content.styled(printed, "$quiet"),
        Content.assemble(plain(row.title), (purpose, "$quiet")),
        ordinal(row.attempt) if row.attempt > 1 else "",
        plain(row.paper_name),
        f"{number_text(row.width_mm / 10)}×{number_text(row.height_mm / 10)}",
    ]


def _result(row: Line) -> Content:
    if not row.judged:
        return Content.styled("waits" if row.purpose != "strip" else "", "$asks")
    return Content(row.verdict or "seen")


def ordinal(attempt: int) -> str:
    """The attempt as one says it.

    >>> [ordinal(n) for n in (1, 2, 3, 4, 11, 21)]
    ['1st', '2nd', '3rd', '4th', '11th', '21st']
    """
    if 10 < attempt % 100 < 20:
        return f"{attempt}th"
    return f"{attempt}{_ORDINALS.get(attempt % 10, 'xth')[-2:]}"


def when(at: datetime, today: date, *, long: bool = False) -> str:
    """The time of a print from today, else its date; the year where it is not this one.

    >>> when(datetime(2026, 11, 25, 14, 2), date(2026, 11, 25)), when(datetime(2025, 3, 2, 9, 5), date(2026, 11, 25))
    ('14:02', '2 Mar 25')
    """
    if at.date() == today:
        return f"today {at:%H:%M}" if long else f"{at:%H:%M}"
    if long and at.year == today.year:
        return f"{at.day} {at:%b %H:%M}"
    return f"{at.day} {at:%b}" if at.year == today.year else f"{at.day} {at:%b} {at:%Y}" if long else f"{at.day} {at:%b %y}"
