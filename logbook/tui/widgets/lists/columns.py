"""Columns of a table: words in cells of fixed or shared width, cut where they are too long."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

GAP = 2


@dataclass(frozen=True)
class Column:
    """A column's heading, its least width, its share of what is left over, and the side its words stand on."""

    heading: str
    width: int
    share: int = 0
    right: bool = False


def widths(columns: Sequence[Column], room: int) -> list[int]:
    """The width of each column in ``room`` cells: the least widths, and what is left over by shares.

    >>> widths([Column("no.", 4), Column("picture", 10, share=2), Column("paper", 8, share=1)], 35)
    [4, 16, 11]
    """
    left = room - sum(column.width for column in columns) - GAP * (len(columns) - 1)
    shares = sum(column.share for column in columns) or 1
    return [column.width + max(0, left) * column.share // shares for column in columns]


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
        cell(words, width, right=column.right) for column, words, width in zip(columns, cells, widths(columns, room), strict=True)
    ]
    return Content(" " * GAP).join(made)


def headings(columns: Sequence[Column], room: int) -> Content:
    """The line of headings, quiet."""
    return line(columns, [column.heading for column in columns], room).stylize("$quiet")
