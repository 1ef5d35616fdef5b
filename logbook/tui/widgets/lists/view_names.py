"""The views of a place by name, on one line: the open one stands between angles, a click opens another."""

from __future__ import annotations

from collections.abc import Sequence

from textual import events
from textual.app import RenderResult
from textual.content import Content
from textual.reactive import reactive
from textual.widget import Widget


class ViewNames(Widget):
    """One line of names; ``opened`` is the one that is shown, for the place to watch."""

    DEFAULT_CSS = """
    ViewNames { height: 1; width: 1fr; }
    """

    opened: reactive[str] = reactive("")

    def __init__(self, names: Sequence[str], *, id: str | None = None) -> None:
        super().__init__(id=id)
        self.names = tuple(names)
        self.set_reactive(ViewNames.opened, self.names[0])

    def turn(self, by: int) -> None:
        """Open the next view, or the one before."""
        self.opened = self.names[(self.names.index(self.opened) + by) % len(self.names)]

    def render(self) -> RenderResult:
        shown = [(f"‹{name}›", "bold") if name == self.opened else (f" {name} ", "$quiet") for name in self.names]
        return Content(" ").join(Content.styled(text, style) for text, style in shown)

    def on_click(self, event: events.Click) -> None:
        """Open the view whose name was clicked."""
        place = event.get_content_offset(self)
        end = 0
        for name in self.names:
            start, end = end, end + len(name) + 3
            if place is not None and start <= place.x < end - 1:
                self.opened = name
                return
