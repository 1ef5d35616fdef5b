"""Columns of a table: words in cells of fixed or shared width, cut where they are too long."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from textual.content import Content

GAP = 2
LEAST_TELLING = 8  # in fewer cells there is no room to show where alike names differ


@dataclass(frozen=True)
class Column:
    """A column's heading, its least width, its share of what is left over, and the side its words stand on.

    What stands in a column of ``names`` is cut in the middle: names often differ at their ends.
    """

    heading: str
    width: int
    share: int = 0
    right: bool = False
    names: bool = False


def widths(columns: Sequence[Column], room: int) -> list[int]:
    """The width of each column in ``room`` cells: the least widths, and what is left over by shares.

    >>> widths([Column("no.", 4), Column("picture", 10, share=2), Column("paper", 8, share=1)], 35)
    [4, 16, 11]
    """
    left = room - sum(column.width for column in columns) - GAP * (len(columns) - 1)
    shares = sum(column.share for column in columns) or 1
    return [column.width + max(0, left) * column.share // shares for column in columns]


def name_cut(name: str, width: int, beside: Iterable[str] = ()) -> str:
    """A name in ``width`` cells, cut in its middle; where one ``beside`` it would look the same, so that where they differ stays.

    >>> name_cut("Harbour Mouth in Winter, study 12", 20), name_cut("Low Stair", 20)
    ('Harbour Mouth…udy 12', 'Low Stair')
    >>> name_cut("Harbour Mouth at ebb, large", 16, ["Harbour Mouth at noon, large"])
    'Har…ebb, large'
    """
    if Content(name).cell_length <= width:
        return name
    short = _middle_cut(name, width)
    alike = [other for other in beside if other != name and _middle_cut(other, width) == short]
    if not alike or width < LEAST_TELLING:
        return short
    head = _start(name, width // 4 - 1)
    differs = min(_first_difference(name, other) for other in alike)
    return f"{head}…{_start_cut(name[differs:], width - Content(head).cell_length - 1)}"


def _first_difference(one: str, other: str) -> int:
    return next((place for place, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))


def _middle_cut(name: str, width: int) -> str:
    tail = _start(name[::-1], (width - 1) // 3)[::-1]
    return f"{_start(name, width - 1 - Content(tail).cell_length)}…{tail}" if width > 1 else _start_cut(name, width)


def _start(name: str, width: int) -> str:
    return Content(name).truncate(max(0, width)).plain


def _start_cut(name: str, width: int) -> str:
    return Content(name).truncate(max(0, width), ellipsis=True).plain


def cell(words: str | Content, width: int, *, right: bool = False) -> Content:
    """``words`` in exactly ``width`` cells, with an ellipsis where they are cut.

    >>> cell("Tideway Rag 310", 10).plain, cell("40", 5, right=True).plain
    ('Tideway R…', '   40')
    """
    content = words if isinstance(words, Content) else Content(words)
    if content.cell_length > width:
        content = content.truncate(width, ellipsis=True)
    room = " " * max(0, width - content.cell_length)
    return Content.assemble(room, content) if right else Content.assemble(content, room)


def line(columns: Sequence[Column], cells: Sequence[str | Content], room: int) -> Content:
    """One line of the table."""
    made = [
        cell(name_cut(words, width) if column.names and isinstance(words, str) else words, width, right=column.right)
        for column, words, width in zip(columns, cells, widths(columns, room), strict=True)
    ]
    return Content(" " * GAP).join(made)


def headings(columns: Sequence[Column], room: int) -> Content:
    """The line of headings, quiet."""
    return line(columns, [column.heading for column in columns], room).stylize("$quiet")
