"""The prints behind a month's figures."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.reports.month_words import counted, month_title
from logbook.tui.commands import Command
from logbook.tui.places.place import Place
from logbook.tui.places.prints_columns import heading_line, print_line
from logbook.tui.widgets.lines import Lines

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.history import Line
    from logbook.tui.app import LogbookApp


class BackToMonth(Command):
    """Go back to the review of the month."""

    key, label, scope = "escape,backspace", "back", "month"

    async def run(self, app: LogbookApp) -> None:
        if isinstance(app.place, MonthPrints):
            await app.pop_screen()


@dataclass(frozen=True)
class MonthLines:
    """The month's prints in the sequence they were made."""

    lines: tuple[Line, ...]


class MonthPrints(Place[MonthLines]):
    """The prints of one month, of one paper where it was opened from there.

    Enter opens a print's page; esc goes back to the review.
    """

    COMMANDS_HERE = (BackToMonth,)
    HINTS = ("judge-it", "one-more-like-this", "another-attempt", "edit-print", "back-to-month")

    def __init__(self, month: str, paper: str | None = None, name: str = "") -> None:
        super().__init__()
        self._month = month
        self._paper = paper
        self._paper_name = name
        self._lines: Lines[Line] = Lines(self._draw, id="month-prints")

    @property
    def mode(self) -> str:
        return "month"

    def strip_name(self) -> str:
        return "Month"

    def chosen_print(self) -> str | None:
        return self._lines.row.id if self._lines.row is not None else None

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="month-prints-sentence")
        yield Static("", id="month-prints-headings")
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> MonthLines:
        from logbook.reports import month

        return MonthLines(month.prints_of(store, self._month, self._paper))

    def show(self, model: MonthLines) -> None:
        of = f" on {plain(self._paper_name)}" if self._paper is not None else ""
        said = f"{month_title(self._month)}: {counted(len(model.lines), 'print')}{of}, in the sequence they were made."
        self.query_one("#month-prints-sentence", Static).update(Content(said))
        self._lines.show_rows(model.lines)
        self._show_headings()

    def on_resize(self) -> None:
        """Other columns may fit."""
        self.call_after_refresh(self._show_headings)

    def _show_headings(self) -> None:
        line = heading_line(self._lines.line_width) if self._lines.count else Content("")
        self.query_one("#month-prints-headings", Static).update(line)

    def _draw(self, row: Line, width: int) -> Content:
        return print_line(row, width, self.logbook.now().date())

    @on(Lines.Chosen)
    async def _chosen(self) -> None:
        from logbook.tui.places.print_page import PrintPage

        chosen = self.chosen_print()
        if chosen is not None:
            await self.app.push_screen(PrintPage(chosen))
