"""A list of prints: what Today, Prints, and the pages behind a figure of Tone or Month show."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.content import Content

from logbook.tui.shell import shell_of
from logbook.tui.widgets.lists.headings import Headings
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.store.history import Line


class PrintLines(Lines["Line"]):
    """Prints one below the other, under their ``headings``; enter opens the page of one."""

    def __init__(self, *, id: str | None = None, empty: str = "") -> None:
        super().__init__(self._print_line, id=id, empty=empty)

    def headings(self) -> Headings:
        """The headings to put above the list."""
        return Headings(self, _heading_line)

    @property
    def chosen_print(self) -> str | None:
        """The id of the print under the cursor, where it is here."""
        return self.row.id if self.row is not None else None

    async def on_lines_chosen(self, event: Lines.Chosen) -> None:
        """Lay the print's page over the place."""
        from logbook.tui.places.prints.page import PrintPage

        event.stop()
        await self.app.push_screen(PrintPage(event.row.id))

    def _print_line(self, row: Line, width: int) -> Content:
        from logbook.tui.places.prints.columns import print_line

        return print_line(row, width, shell_of(self).now().date(), self.here)


def _heading_line(width: int) -> Content:
    from logbook.tui.places.prints.columns import heading_line

    return heading_line(width)
