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
from logbook.tui.widgets.field import Field

NARROWEST, WIDEST = 7, 9
LINES = 3
LONGEST_NUMBER = 7


@dataclass(frozen=True)
class Column:
    """One number: its name in the record, its words, and what it was before (shown quietly)."""

    name: str
    words: str
    before: float | None = None


class NumberCells(Widget, can_focus=True):
    """Cells of three lines: the words, the number before, the number typed. Space or enter goes on to the next."""

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

    def _across(self, width: int) -> int:
        return max(1, width // self._cell(width))

    def _cell(self, width: int) -> int:
        """As narrow as it must be for all cells to stand on one line, where they can."""
        return max(NARROWEST, min(WIDEST, width // max(1, len(self.columns))))

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """Three lines for each row of cells."""
        return LINES * -(-len(self.columns) // self._across(width))

    def render(self) -> Content:
        across, cell = self._across(self.content_size.width), self._cell(self.content_size.width)
        lines: list[Content] = []
        for start in range(0, len(self.columns), across):
            places = range(start, min(start + across, len(self.columns)))
            lines.append(Content("").join(self._words(at, cell) for at in places))
            lines.append(Content("").join(self._before(at, cell) for at in places))
            lines.append(Content("").join(self._number(at, cell) for at in places))
        return Content("\n").join(lines)

    def _words(self, at: int, cell: int) -> Content:
        words = shortened(plain(self.columns[at].words), cell - 1)
        return Content.styled(f"{words:>{cell - 1}} ", "$foreground" if self.has_focus and at == self.at else "$quiet")

    def _before(self, at: int, cell: int) -> Content:
        before = self.columns[at].before
        return Content.styled(f"{'' if before is None else f'{before:g}':>{cell - 1}} ", "$quiet")

    def _number(self, at: int, cell: int) -> Content:
        here = self.has_focus and at == self.at
        shown = self.typed[at] + ("▏" if here else "")
        return Content.assemble((f"{shown or '·':>{cell - 1}}", "bold" if here else ""), " ")

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
        across = self._across(self.content_size.width)
        at = event.y // LINES * across + event.x // self._cell(self.content_size.width)
        if at < len(self.columns):
            self.at = at
            self.refresh()

    def on_focus(self) -> None:
        """Show the cell that is typed in."""
        self.refresh()

    def on_blur(self) -> None:
        """Hide it again."""
        self.refresh()


def shortened(words: str, width: int) -> str:
    """``words`` in ``width`` letters: each word but the last loses its end.

    >>> shortened("light magenta", 8), shortened("photo black", 8), shortened("cyan", 8)
    ('l magent', 'ph black', 'cyan')
    """
    if len(words) <= width:
        return words
    *first, last = words.split()
    room = (width - len(last) - len(first)) // len(first) if first else 0
    return " ".join([*(word[: max(1, room)] for word in first), last])[:width]


class NumbersRow(Field):
    """Numbers typed as one row. Its value is a map from a column's name to the number, of those that were typed."""

    DEFAULT_CSS = """
    NumbersRow { height: auto; }
    NumbersRow > .aside { display: none; }
    """

    def __init__(self, name: str, label: str, columns: Sequence[Column], values: Mapping[str, float] | None = None) -> None:
        super().__init__(name, label)
        self.cells = NumberCells(columns)
        self.restore(dict(values or {}))

    def control(self) -> ComposeResult:
        yield self.cells

    @property
    def value(self) -> dict[str, float]:
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

    def set_columns(self, columns: Sequence[Column]) -> None:
        """Other columns, such as those of another printer; what was typed is kept by name."""
        kept = self.draft()
        self.cells.columns = tuple(columns)
        self.cells.at = 0
        self.restore(kept)
        self.cells.refresh(layout=True)

    def focus(self, scroll_visible: bool = True) -> NumbersRow:
        """Go to the cells."""
        self.cells.focus(scroll_visible)
        return self

    def on_number_cells_typed(self, event: NumberCells.Typed) -> None:
        """Tell the form."""
        event.stop()
        self.changed()
