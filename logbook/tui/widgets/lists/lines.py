"""A list with a cursor that draws only the lines that are seen, however many there are."""

from __future__ import annotations

from collections.abc import Callable, Collection, Sequence
from typing import Any, ClassVar, Generic, TypeVar

from textual import events
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.geometry import Region, Size
from textual.message import Message
from textual.reactive import reactive
from textual.scroll_view import ScrollView
from textual.strip import Strip
from textual.style import Style
from textual.visual import Visual

Row = TypeVar("Row")

MARGIN = 40
"""Lines fetched beyond each end of what is seen, so that a key that moves by one finds them there."""


class Lines(ScrollView, Generic[Row], can_focus=True):
    """Rows one below the other; ``draw(row, width)`` makes the line of one.

    Give all rows with ``show_rows``; or only their number with ``show_count`` and then, whenever ``Wanted`` is
    posted, those that are asked for with ``fill``. ``Chosen`` is posted by enter and by a second click,
    ``Moved`` when the cursor comes to another row.
    """

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down,j", "move(1)", show=False),
        Binding("up,k", "move(-1)", show=False),
        Binding("pagedown,ctrl+f", "page(1)", show=False),
        Binding("pageup,ctrl+b", "page(-1)", show=False),
        Binding("home,g", "first", show=False),
        Binding("end,G", "last", show=False),
        Binding("enter", "choose", show=False),
    ]
    DEFAULT_CSS = """
    Lines {
        height: 1fr; width: 1fr; background: $background;
        scrollbar-size-vertical: 1; scrollbar-size-horizontal: 0; scrollbar-gutter: stable;
    }
    """
    COMPONENT_CLASSES: ClassVar[set[str]] = {"lines--chosen"}

    at: reactive[int] = reactive(0, repaint=False)
    count: reactive[int] = reactive(0, repaint=False)
    """How many rows there are."""

    class Wanted(Message):
        """Rows ``first`` to ``last`` (exclusive) are about to be seen and are not here yet."""

        def __init__(self, lines: Lines[Any], first: int, last: int) -> None:
            super().__init__()
            self.lines = lines
            self.first = first
            self.last = last

    class Chosen(Message):
        """Enter on a row, or a click on the row under the cursor."""

        def __init__(self, lines: Lines[Any], row: Any) -> None:
            super().__init__()
            self.lines = lines
            self.row = row

    class Moved(Message):
        """The cursor stands on another row."""

        def __init__(self, lines: Lines[Any], at: int) -> None:
            super().__init__()
            self.lines = lines
            self.at = at

    def __init__(self, draw: Callable[[Row, int], Content], *, id: str | None = None, empty: str = "") -> None:
        super().__init__(id=id)
        self._draw = draw
        self._empty = empty
        self._given = False  # whether anybody has said yet how many rows there are
        self._rows: dict[int, Row] = {}
        self._asked: tuple[int, int] | None = None

    # What is shown

    def show_rows(self, rows: Sequence[Row]) -> None:
        """Show these rows, all of them."""
        self._rows = dict(enumerate(rows))
        self._take_count(len(rows))

    def say_when_empty(self, words: str) -> None:
        """What is shown where there is no row."""
        self._empty = words
        self.refresh()

    def show_count(self, count: int, first: int, rows: Sequence[Row]) -> None:
        """Show ``count`` rows, of which ``rows`` from ``first`` on are here already."""
        self._rows = {first + place: row for place, row in enumerate(rows)}
        self._take_count(count)
        self._want()

    def fill(self, first: int, rows: Sequence[Row]) -> None:
        """Rows that were wanted; those far from what is seen are let go."""
        top, bottom = self._seen()
        keep = range(top - 4 * MARGIN, bottom + 4 * MARGIN)
        self._rows = {place: row for place, row in self._rows.items() if place in keep}
        self._rows.update({first + place: row for place, row in enumerate(rows)})
        self._asked = None
        self.refresh()
        self._want()

    def _take_count(self, count: int) -> None:
        self.count = count
        self._given = True
        self._asked = None
        self.virtual_size = Size(0, max(1, count))
        self.at = max(0, min(self.at, count - 1))
        self.refresh()

    @property
    def row(self) -> Row | None:
        """The row under the cursor, where it is here."""
        return self._rows.get(self.at)

    @property
    def here(self) -> Collection[Row]:
        """The rows that are seen or near to it."""
        return self._rows.values()

    def _seen(self) -> tuple[int, int]:
        top = int(self.scroll_offset.y)
        return top, top + max(1, self.size.height)

    def span_wanted(self) -> tuple[int, int]:
        """First and last (exclusive) row to have here: what is seen, and a margin."""
        top, bottom = self._seen()
        return max(0, top - MARGIN), min(self.count, bottom + MARGIN) if self.count else bottom + MARGIN

    def _want(self) -> None:
        top, bottom = self._seen()
        missing = any(place not in self._rows for place in range(top, min(bottom, self.count)))
        span = self.span_wanted()
        if missing and self._asked != span:
            self._asked = span
            self.post_message(self.Wanted(self, *span))

    def watch_scroll_y(self, old_value: float, new_value: float) -> None:
        """Ask for what comes into sight."""
        super().watch_scroll_y(old_value, new_value)
        self._want()

    def on_resize(self) -> None:
        """More lines may be seen now."""
        self._want()

    @property
    def line_width(self) -> int:
        """The cells of a line, the cursor's included; headings above the list keep to it."""
        return self.scrollable_content_region.width

    def render_line(self, y: int) -> Strip:
        place = int(self.scroll_offset.y) + y
        width = self.line_width
        chosen = place == self.at and self.count > 0
        if self.count == 0:
            content = Content.styled(self._empty if y == 0 and self._given else "", "$quiet")
        elif place in self._rows:
            content = Content.assemble("›" if chosen else " ", self._draw(self._rows[place], width - 1))
        else:
            content = Content("")
        style = self.visual_style
        if chosen and self.has_focus:
            style += Style.from_styles(self.get_component_styles("lines--chosen"))
        strips = Visual.to_strips(self, content, width, 1, style, pad=True)
        return strips[0] if strips else Strip.blank(width)

    # The cursor

    def watch_at(self, old: int, new: int) -> None:
        """Draw the two rows again and keep the cursor in sight."""
        top = int(self.scroll_offset.y)
        for place in (old, new):
            self.refresh(Region(0, place - top, self.size.width, 1))
        if self.is_mounted and self.size.height:
            self.scroll_to_region(Region(0, new, 1, 1), animate=False, force=True)
        self.post_message(self.Moved(self, new))

    def action_move(self, by: int) -> None:
        """Up or down by rows."""
        self.at = max(0, min(self.count - 1, self.at + by))

    def action_page(self, by: int) -> None:
        """Up or down by what is seen."""
        self.action_move(by * max(1, self.size.height - 1))

    def action_first(self) -> None:
        """To the first row."""
        self.at = 0

    def action_last(self) -> None:
        """To the last row."""
        self.at = max(0, self.count - 1)

    def action_choose(self) -> None:
        """Open the row under the cursor."""
        if self.row is not None:
            self.post_message(self.Chosen(self, self.row))

    def on_click(self, event: events.Click) -> None:
        """To the clicked row; open it if the cursor is there already."""
        place = int(self.scroll_offset.y) + event.y
        if place >= self.count:
            return
        if place == self.at and event.chain > 1:
            self.action_choose()
        self.at = place

    def on_focus(self) -> None:
        """The cursor's row stands out."""
        self.refresh()

    def on_blur(self) -> None:
        """The cursor's row goes quiet."""
        self.refresh()
