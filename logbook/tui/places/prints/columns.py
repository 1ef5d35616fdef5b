"""How a print is written on one line of the history."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import replace
from datetime import date, datetime
from typing import TYPE_CHECKING

from textual.content import Content

from logbook.records.darkness import thirds_in_brief
from logbook.records.numbering import padded
from logbook.records.text import plain
from logbook.records.units import number_text, shown_unit, size_text
from logbook.reports.bench.what_differed import settings_changed
from logbook.tui.widgets.lists.columns import Column, cell, headings, line, name_cut, widths

if TYPE_CHECKING:
    from logbook.store.history import Line

WIDE, WIDEST = 110, 122
SIZE, SIZE_WIDTH = "size", 9
NARROW_COLUMNS = (
    Column("no.", 5, right=True),
    Column("printed", 7),
    Column("picture", 14, share=2),
    Column("paper", 12, share=1),
    Column(SIZE, SIZE_WIDTH, right=True),
    Column("result", 6),
    Column("seen", 10),
)
WIDE_COLUMNS = (
    Column("no.", 5, right=True),
    Column("printed", 7),
    Column("picture", 18, share=1),
    Column("paper", 20),
    Column(SIZE, SIZE_WIDTH, right=True),
    Column("what differed", 14, share=3),
    Column("result", 6),
    Column("seen", 10),
)
WIDEST_COLUMNS = (
    Column("no.", 5, right=True),
    Column("printed", 12),
    Column("picture", 20, share=1),
    Column("paper", 20, share=1),
    Column(SIZE, SIZE_WIDTH, right=True),
    Column("what differed", 18, share=3),
    Column("result", 6),
    Column("seen", 10),
)
_ORDINALS = {1: "1st", 2: "2nd", 3: "3rd"}


def heading_line(width: int) -> Content:
    """The headings above the list, which has a cell for the cursor before each line."""
    columns = [replace(one, heading=f"size {shown_unit()}") if one.heading == SIZE else one for one in _columns(width)]
    return Content.assemble(" ", headings(columns, width - 1))


def print_line(row: Line, width: int, today: date, beside: Collection[Line] = ()) -> Content:
    """One print in ``width`` cells; ``beside`` are the other lines, from which its names are to be told."""
    columns = _columns(width + 1)
    wide = columns is not NARROW_COLUMNS
    title_width, paper_width = widths(columns, width)[2:4]
    seen = "" if row.darkness is None else thirds_in_brief(row.darkness)
    differed = [Content.styled(plain(settings_changed(row.before, row.settings)), "$quiet")] if wide else []
    cells: list[str | Content] = [
        padded(row.number),
        Content.styled(when(row.at, today, long=columns is WIDEST_COLUMNS), "$quiet"),
        _title(row, title_width, beside),
        name_cut(plain(row.paper_name), paper_width, (plain(other.paper_name) for other in beside)),
        _size(row),
        *differed,
        _result(row),
        seen,
    ]
    return line(columns, cells, width)


def _columns(width: int) -> tuple[Column, ...]:
    return WIDEST_COLUMNS if width >= WIDEST else WIDE_COLUMNS if width >= WIDE else NARROW_COLUMNS


def _title(row: Line, width: int, beside: Collection[Line]) -> Content:
    """The picture, and at the column's end which attempt it is or that it is no final print."""
    attempt = ordinal(row.attempt) if row.attempt > 1 else ""
    aside = " ".join(word for word in ("" if row.purpose == "final" else row.purpose, attempt) if word)
    room = width - len(aside) - 1 if aside else width
    title = cell(name_cut(plain(row.title), room, (plain(other.title) for other in beside)), room)
    return Content.assemble(title, " ", (aside, "$quiet")) if aside else title


def _size(row: Line) -> str:
    """The size without its unit, which stands over the column; to a tenth where more finds no room."""
    exact = size_text(row.width_mm, row.height_mm).partition(" ")[0]
    return exact if len(exact) <= SIZE_WIDTH else "×".join(number_text(float(side)) for side in exact.split("×"))


def _result(row: Line) -> Content:
    if row.again:
        return Content.styled(f"{row.verdict or 'seen'}?", "$asks")
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
    """The time of a print from today, else its day; the month and year where it is not this year.

    >>> when(datetime(2026, 11, 25, 14, 2), date(2026, 11, 25)), when(datetime(2025, 3, 2, 9, 5), date(2026, 11, 25))
    ('14:02', 'Mar ’25')
    >>> when(datetime(2025, 3, 2, 9, 5), date(2026, 11, 25), long=True)
    '2 Mar 2025'
    """
    if at.date() == today:
        return f"today {at:%H:%M}" if long else f"{at:%H:%M}"
    if at.year == today.year:
        return f"{at.day} {at:%b %H:%M}" if long else f"{at.day} {at:%b}"
    return f"{at.day} {at:%b %Y}" if long else f"{at:%b} ’{at:%y}"
