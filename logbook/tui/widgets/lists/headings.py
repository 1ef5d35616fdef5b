"""The headings above a list."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from logbook.tui.widgets.lists.lines import Lines


class Headings(Widget):
    """One line above ``lines``, as wide as theirs; nothing while there is no row. ``draw(width)`` makes it."""

    DEFAULT_CSS = """
    Headings { height: 1; width: 1fr; }
    """

    def __init__(self, lines: Lines[Any], draw: Callable[[int], Content]) -> None:
        super().__init__()
        self._lines = lines
        self._draw = draw

    def on_mount(self) -> None:
        """Follow how many rows there are."""
        self.watch(self._lines, "count", self._again, init=False)

    def _again(self) -> None:
        self.refresh()

    def render(self) -> RenderResult:
        return self._draw(self._lines.line_width) if self._lines.count else Content("")
