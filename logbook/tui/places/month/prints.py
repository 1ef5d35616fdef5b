"""The prints behind a month's figures."""

from __future__ import annotations

from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.records.wording import counted_in_words
from logbook.reports.month.written.words import month_title
from logbook.tui.places.place import BackFromPage, Place
from logbook.tui.places.prints.lines import PrintLines

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.history import Line


class BackToMonth(BackFromPage):
    """Go back to the review of the month."""

    key, label, scope = "escape,backspace", "back", "month"


class MonthPrints(Place["tuple[Line, ...]"]):
    """The prints of one month, of one paper where it was opened from there.

    Enter opens a print's page; esc goes back to the review.
    """

    OF = "Month"
    COMMANDS_HERE = (BackToMonth,)
    HINTS = ("judge-it", "one-more-like-this", "another-attempt", "edit-print", "back-to-month")

    def __init__(self, month: str, paper: str | None = None, name: str = "") -> None:
        super().__init__()
        self._month = month
        self._paper = paper
        self._paper_name = name
        self._lines = PrintLines(id="month-prints")

    def chosen_print(self) -> str | None:
        return self._lines.chosen_print

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="month-prints-sentence")
        yield self._lines.headings()
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> tuple[Line, ...]:
        from logbook.reports.month import answer as month
        from logbook.snapshot import take

        return month.prints_of(take(store), self._month, self._paper)

    def show(self, model: tuple[Line, ...]) -> None:
        of = f" on {plain(self._paper_name)}" if self._paper is not None else ""
        said = f"{month_title(self._month)}: {counted_in_words(len(model), 'print')}{of}, in the sequence they were made."
        self.query_one("#month-prints-sentence", Static).update(Content(said))
        self._lines.show_rows(model)
