"""The attempts at a picture side by side; as many as the width holds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import RenderResult
from textual.content import Content
from textual.geometry import Size
from textual.widget import Widget

from logbook.tui.places.prints.words import attempts_lines

if TYPE_CHECKING:
    from logbook.reports.bench.one_print import OnePrint


class AttemptsTable(Widget):
    """Settings of the attempts in columns, drawn for whatever width there is."""

    DEFAULT_CSS = """
    AttemptsTable { width: 1fr; height: auto; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._one: OnePrint | None = None

    def show(self, one: OnePrint) -> None:
        """Show the attempts of another print."""
        self._one = one
        self.refresh(layout=True)

    def get_content_height(self, container: Size, viewport: Size, width: int) -> int:
        """As many lines as the table has at that width."""
        return len(attempts_lines(self._one, width)) if self._one is not None else 1

    def render(self) -> RenderResult:
        lines = attempts_lines(self._one, self.content_size.width) if self._one is not None else []
        return Content("\n").join(lines)
