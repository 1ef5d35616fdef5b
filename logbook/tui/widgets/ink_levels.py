"""The last known level of every ink, as words, a bar and a number."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from logbook.records.wording import ink_text

if TYPE_CHECKING:
    from logbook.snapshot.printer import InkLevel

CELL = 26
NAME = 14
BAR = 4


class InkLevels(Widget):
    """As many levels on a line as the width holds. The black that is not loaded is said to be out."""

    DEFAULT_CSS = """
    InkLevels { height: auto; width: 1fr; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._levels: tuple[InkLevel, ...] = ()

    def show(self, levels: tuple[InkLevel, ...]) -> None:
        """Show these levels."""
        self._levels = levels
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """A line for each so many inks."""
        return -(-len(self._levels) // _across(width))

    def render(self) -> Content:
        return self.across(self.content_size.width)

    def across(self, width: int) -> Content:
        """The levels in lines of so many cells."""
        across = _across(width)
        starts = range(0, len(self._levels), across)
        return Content("\n").join(Content("").join(map(_cell, self._levels[start : start + across])) for start in starts)


def _across(width: int) -> int:
    return max(1, width // CELL)


def _cell(level: InkLevel) -> Content:
    """One level in ``CELL`` cells."""
    name = Content.styled(f"{ink_text(level.ink)[: NAME - 1]:<{NAME}}", "$quiet")
    if level.percent is None:
        return Content.assemble(name, (f"{'not read':<{CELL - NAME}}", "$quiet"))
    filled = round(level.percent / 100 * BAR)
    bar = Content.assemble("━" * filled, ("─" * (BAR - filled), "$rule"))
    if level.low or not level.loaded:
        bar = Content.styled(f"{'low' if level.low else 'out':<{BAR}}", "$asks bold" if level.low else "$quiet")
    number = Content.styled(f"{level.percent:4.0f}", "$asks bold" if level.low else "$foreground" if level.loaded else "$quiet")
    return Content.assemble(name, bar, number, (" %", "$quiet"), "  ")
