"""Tables of words and figures, made once and set as plain text or Markdown; cells are data, never markup."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from logbook.records.text import plain

__all__ = ["Column", "Table", "as_markdown", "as_plain_text", "cell_width", "markdown_escaped", "wrapped"]

GAP = "  "
LEAST_WORDS = 8


@dataclass(frozen=True)
class Column:
    """A column's heading; figures stand at the right, words at the left."""

    name: str
    right: bool = True


@dataclass(frozen=True)
class Table:
    """A titled table. ``rows`` hold as many cells as there are ``columns``; ``note`` stands below."""

    title: str
    columns: tuple[Column, ...]
    rows: tuple[tuple[str, ...], ...]
    note: str | None = None


def cell_width(text: str) -> int:
    """Columns that a text takes in a terminal: wide characters two, combining marks none.

    >>> cell_width("40×50 cm"), cell_width("写真")
    (8, 4)
    """
    return sum(_character_width(character) for character in text)


def as_plain_text(table: Table, width: int = 80) -> str:
    """The table in at most ``width`` columns, the title above; columns of words give way where room is short."""
    rows = [tuple(plain(cell) for cell in row) for row in (tuple(c.name for c in table.columns), *table.rows)]
    widths = [max(cell_width(row[i]) for row in rows) for i in range(len(table.columns))]
    _narrow(widths, [i for i, column in enumerate(table.columns) if not column.right], width)
    lines = [_line(row, table.columns, widths) for row in rows]
    note = [wrapped(table.note, width)] if table.note else []
    return "\n".join([plain(table.title), "", *lines, *note])


def as_markdown(table: Table) -> str:
    """The table in Markdown, under a heading; whatever looks like markup in it is escaped."""
    heads = [markdown_escaped(column.name) or " " for column in table.columns]
    rule = ["---:" if column.right else "---" for column in table.columns]
    rows = [[markdown_escaped(cell) for cell in row] for row in table.rows]
    lines = ["| " + " | ".join(row) + " |" for row in (heads, rule, *rows)]
    note = ["", markdown_escaped(table.note)] if table.note else []
    return "\n".join([f"## {markdown_escaped(table.title)}", "", *lines, *note])


def markdown_escaped(text: str) -> str:
    """Text as Markdown that shows it literally, on one line; HTML is shown, never meant.

    >>> markdown_escaped("<b>*Ebb* | [tide]</b>")
    '&lt;b&gt;\\\\*Ebb\\\\* \\\\| \\\\[tide\\\\]&lt;/b&gt;'
    """
    shown = plain(text).replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
    shown = re.sub(r"([\\`*_{}\[\]#|~!$])", r"\\\1", shown)
    # A line must not begin like a list, a quotation or a rule.
    shown = re.sub(r"^(\s*)([-+=])(?=[-+=\s]|$)", r"\1\\\2", shown)
    shown = re.sub(r"^(\s*\d+)([.)])(?=\s|$)", r"\1\\\2", shown)
    # Four spaces at the beginning would be code.
    shown = re.sub(r"^ +", lambda spaces: "&#32;" * len(spaces[0]), shown)
    # Web and mail addresses would become links by themselves.
    return re.sub(r"(?i)(https?|ftp)(:)", r"\1&#58;", shown).replace("www.", "www&#46;").replace("@", "&#64;")


# A number and its percent sign stay on one line; no text of ours holds a NUL.
_HELD = "\0%"


def wrapped(text: str, width: int = 80) -> str:
    """Text broken between words, and inside one that is longer, into lines of at most ``width`` columns.

    >>> wrapped("the ebb at low stair", 10)
    'the ebb at\\nlow stair'
    >>> wrapped("they kept 46 %", 12)
    'they kept\\n46 %'
    """
    lines, line = [], ""
    words = [word.replace(_HELD, " %") for word in plain(text).replace(" %", _HELD).split(" ")]
    for word in (piece for whole in words for piece in _pieces(whole, width)):
        if line and cell_width(line) + 1 + cell_width(word) > width:
            lines.append(line)
            line = word
        else:
            line = f"{line} {word}" if line else word
    return "\n".join([*lines, line])


def _pieces(word: str, width: int) -> Iterator[str]:
    while cell_width(word) > width:
        kept = _beginning(word, width)
        yield kept
        word = word[len(kept) :]
    yield word


def _beginning(text: str, width: int) -> str:
    """As much of the text as goes into ``width`` (>= 2) columns."""
    room = width
    for place, character in enumerate(text):
        room -= _character_width(character)
        if room < 0:
            return text[:place]
    return text


def _narrow(widths: list[int], words: Sequence[int], room: int) -> None:
    """Take from the widest column of words, one cell after the other, until all go into the room."""
    over = sum(widths) + len(GAP) * (len(widths) - 1) - room
    while over > 0 and words:
        widest = max(words, key=lambda place: widths[place])
        if widths[widest] <= LEAST_WORDS:
            return
        widths[widest] -= 1
        over -= 1


def _line(row: Sequence[str], columns: Sequence[Column], widths: Sequence[int]) -> str:
    cells = [_set(cell, width, column.right) for cell, column, width in zip(row, columns, widths, strict=True)]
    return GAP.join(cells).rstrip()


def _set(cell: str, width: int, right: bool) -> str:
    if cell_width(cell) > width:
        cell = f"{_beginning(cell, width - 1)}…"
    space = " " * (width - cell_width(cell))
    return f"{space}{cell}" if right else f"{cell}{space}"


def _character_width(character: str) -> int:
    if unicodedata.combining(character):
        return 0
    return 2 if unicodedata.east_asian_width(character) in ("W", "F") else 1
