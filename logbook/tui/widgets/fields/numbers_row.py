"""A row of numbers typed one after the other, such as ink levels in ink order."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.geometry import Size
from textual.message import Message
from textual.widget import Widget

from logbook.records.text import plain
from logbook.tui.widgets.fields.field import Field

NARROWEST, EVEN, WIDEST = 6, 8, 12
LONGEST_NUMBER = 7


@dataclass(frozen=True)
class Column:
    """One number: its name in the record, its words, and what it was before (shown quietly)."""

    name: str
    words: str
    before: float | None = None


@dataclass(frozen=True)
class Cell:
    """Where a number stands: its place among all, its left edge and its width, a blank at its right end included."""

    at: int
    left: int
    width: int


class NumberCells(Widget, can_focus=True):
    """Cells: the words (on two lines where they need them), the number before, the number typed. Space or enter goes on."""

    DEFAULT_CSS = """
    NumberCells { height: auto; width: 1fr; }
    """

    class Typed(Message):
        """A number was typed or taken away."""

    def __init__(self, columns: Sequence[Column]) -> None:
        super().__init__()
        self.columns = tuple(columns)
        self.typed = ["" for _ in columns]
        self.at = 0

    def _rows(self, width: int) -> list[list[Cell]]:
        """The cells, all as wide where there is room, else each as narrow as its words; on more lines where they must."""
        least = [_least(plain(one.words)) for one in self.columns]
        even = max(EVEN, *least, 0)
        widths = [even] * len(least) if even * len(least) <= width else least
        rows: list[list[Cell]] = [[]]
        for at, wide in enumerate(widths):
            left = rows[-1][-1].left + rows[-1][-1].width if rows[-1] else 0
            if left and left + wide > width:
                rows.append([])
                left = 0
            rows[-1].append(Cell(at, left, wide))
        return rows

    @property
    def _word_lines(self) -> int:
        return 2 if any(two_lines(plain(one.words))[0] for one in self.columns) else 1

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """The lines of the words and two more for each row of cells."""
        return (self._word_lines + 2) * len(self._rows(width))

    def render(self) -> Content:
        lines: list[Content] = []
        for row in self._rows(self.content_size.width):
            for line in range(2 - self._word_lines, 2):
                lines.append(Content("").join(self._words(cell, line) for cell in row))
            lines.append(Content("").join(self._before(cell) for cell in row))
            lines.append(Content("").join(self._number(cell) for cell in row))
        return Content("\n").join(lines)

    def _words(self, cell: Cell, line: int) -> Content:
        words = two_lines(plain(self.columns[cell.at].words))[line][: cell.width - 1]
        style = "$foreground" if self.has_focus and cell.at == self.at else "$quiet"
        return Content.styled(f"{words:>{cell.width - 1}} ", style)

    def _before(self, cell: Cell) -> Content:
        before = self.columns[cell.at].before
        return Content.styled(f"{'' if before is None else f'{before:g}':>{cell.width - 1}} ", "$quiet")

    def _number(self, cell: Cell) -> Content:
        here = self.has_focus and cell.at == self.at
        shown = (self.typed[cell.at] + ("▏" if here else ""))[1 - cell.width :]
        return Content.assemble((f"{shown or '·':>{cell.width - 1}}", "bold" if here else ""), " ")

    def on_key(self, event: events.Key) -> None:
        """Digits fill the cell; space and enter go on; enter on the last cell is the form's."""
        if (event.key in ("space", "enter", "right", "semicolon") and self._go(1)) or (event.key == "left" and self._go(-1)):
            pass
        elif event.key == "backspace" and (self.typed[self.at] or self._go(-1)):
            self._type(self.typed[self.at][:-1])
        elif event.character and event.character in "0123456789.," and len(self.typed[self.at]) < LONGEST_NUMBER:
            self._type(self.typed[self.at] + event.character.replace(",", "."))
        elif event.key in ("up", "down"):
            self.screen.focus_next() if event.key == "down" else self.screen.focus_previous()
        else:
            return
        event.stop()

    def on_paste(self, event: events.Paste) -> None:
        """A pasted row of numbers fills the cells from here on."""
        event.stop()
        for word in event.text.split():
            self.typed[self.at] = "".join(sign for sign in word.replace(",", ".") if sign in "0123456789.")[:LONGEST_NUMBER]
            if not self._go(1):
                break
        self.post_message(self.Typed())
        self.refresh()

    def _type(self, text: str) -> None:
        self.typed[self.at] = text
        self.post_message(self.Typed())
        self.refresh()

    def _go(self, by: int) -> bool:
        """To another cell; ``False`` at either end."""
        if not 0 <= self.at + by < len(self.columns):
            return False
        self.at += by
        self.refresh()
        return True

    def on_click(self, event: events.Click) -> None:
        """To the clicked cell."""
        rows = self._rows(self.content_size.width)
        row = rows[min(event.y // (self._word_lines + 2), len(rows) - 1)]
        self.at = next((cell.at for cell in row if cell.left <= event.x < cell.left + cell.width), self.at)
        self.refresh()

    def on_focus(self) -> None:
        """Show the cell that is typed in."""
        self.refresh()

    def on_blur(self) -> None:
        """Hide it again."""
        self.refresh()


def two_lines(words: str) -> tuple[str, str]:
    """The last word, and what stands over it.

    >>> two_lines("light magenta"), two_lines("cyan")
    (('light', 'magenta'), ('', 'cyan'))
    """
    over, _, last = words.rpartition(" ")
    return over, last


def _least(words: str) -> int:
    """The cells that a column needs, a blank at its end included."""
    return min(max(NARROWEST, *(len(part) + 1 for part in two_lines(words))), WIDEST)


class NumbersRow(Field):
    """Numbers typed as one row. Its value is a map from a column's name to the number, of those that were typed."""

    how = "space goes on to the next number"

    DEFAULT_CSS = """
    NumbersRow { height: auto; }
    NumbersRow > .aside { display: none; }
    """

    def __init__(self, name: str, label: str, columns: Sequence[Column], values: Mapping[str, float] | None = None) -> None:
        super().__init__(name, label)
        self.cells = NumberCells(columns)
        self.give(dict(values or {}))

    def control(self) -> ComposeResult:
        yield self.cells

    def read(self) -> dict[str, float]:
        values = {}
        for column, typed in zip(self.cells.columns, self.cells.typed, strict=True):
            if typed:
                try:
                    values[column.name] = float(typed)
                except ValueError:
                    raise ValueError(f"{column.words}: {typed!r} is not a number") from None
        return values

    def draft(self) -> Any:
        return dict(zip((column.name for column in self.cells.columns), self.cells.typed, strict=True))

    def restore(self, kept: Any) -> None:
        if isinstance(kept, dict):
            texts = {name: text if isinstance(text, str) else f"{text:g}" for name, text in kept.items()}
            self.cells.typed = [texts.get(column.name, "")[:LONGEST_NUMBER] for column in self.cells.columns]
            self.cells.refresh()

    def focus(self, scroll_visible: bool = True) -> NumbersRow:
        """Go to the cells."""
        self.cells.focus(scroll_visible)
        return self

    def on_number_cells_typed(self, event: NumberCells.Typed) -> None:
        """Tell the form."""
        event.stop()
        self.changed()
