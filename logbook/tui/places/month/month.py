"""Month: the review of one month, against the months before it."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING, ClassVar, cast

from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from logbook.analysis.month.figures import month_name, month_number
from logbook.tui.commands.command import Command, bindings
from logbook.tui.frame.hint_line import HintLine
from logbook.tui.places.month.papers import PaperRow, paper_heading, paper_line, paper_rows
from logbook.tui.places.month.views import VIEWS, first_sentence, view_lines
from logbook.tui.places.place import READ_ON, Place, TurnViews
from logbook.tui.widgets.lists.headings import Headings
from logbook.tui.widgets.lists.lines import Lines
from logbook.tui.widgets.lists.view_names import ViewNames

if TYPE_CHECKING:
    from pathlib import Path

    from logbook.reports.month.model import MonthAnswer
    from logbook.store import Store
    from logbook.tui.shell import Shell


def _month(app: Shell) -> Month | None:
    return app.place if isinstance(app.place, Month) else None


class MonthBefore(Command):
    """Go to the month before."""

    key, label, scope = "left_square_bracket,left", "month before", "month"

    async def run(self, app: Shell) -> None:
        cast(Month, app.place).step(-1)

    @classmethod
    def possible(cls, app: Shell) -> bool:
        place = _month(app)
        return place is not None and place.can_step(-1)


class MonthAfter(Command):
    """Go to the month after."""

    key, label, scope = "right_square_bracket,right", "month after", "month"

    async def run(self, app: Shell) -> None:
        cast(Month, app.place).step(1)

    @classmethod
    def possible(cls, app: Shell) -> bool:
        place = _month(app)
        return place is not None and place.can_step(1)


class NextMonthView(TurnViews):
    """Go on to papers, drift, money, sales and what is to be done."""

    key, label, scope = "tab,y", "next view", "month"


class MonthViewBefore(TurnViews):
    """Go back to the view before."""

    key, label, scope, hinted = "shift+tab,Y", "view before", "month", False
    by = -1


class SeePrintsOfTheMonth(Command):
    """Open the month's prints, of the chosen paper where the papers are shown."""

    key, label, scope = "enter", "its prints", "month"

    async def run(self, app: Shell) -> None:
        await cast(Month, app.place).open_prints()


class WriteMonthPage(Command):
    """Write the month's review as a page for the browser, into the folder you started from."""

    key, label, scope, hinted = "W", "write its page", "month", False

    async def run(self, app: Shell) -> None:
        from logbook.tui.places.written_files import write_file

        answer = cast(Month, app.place).answer
        if answer is not None:
            write_file(app, partial(_page_of, answer=answer))


class Month(Place["MonthAnswer"]):
    """The review of a month: what was kept, what it cost, what drifted, what a print must sell for.

    [ and ] go from month to month, tab through the views. Among the papers, enter opens the prints of one;
    in the other views, all prints of the month. Limits and signals are those of the months before: ▲ marks what
    left them, and beside it stands what changed just before. W writes the month as a page for the browser.
    """

    SLOW = True
    PAGES = ("logbook.tui.places.month.prints:MonthPrints",)
    COMMANDS_HERE = (MonthBefore, MonthAfter, NextMonthView, MonthViewBefore, SeePrintsOfTheMonth, WriteMonthPage)
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(COMMANDS_HERE),
        *READ_ON,
    ]

    def __init__(self) -> None:
        super().__init__()
        self._month: str | None = None
        """The month asked for; None: the running one."""
        self._first: int | None = None
        self._answer: MonthAnswer | None = None
        self._papers: Lines[PaperRow] = Lines(paper_line, id="papers", empty="No paper was printed on in this month.")

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="month-sentence")
        yield ViewNames(VIEWS, id="month-views")
        yield Headings(self._papers, paper_heading)
        yield self._papers
        with VerticalScroll(id="review", can_focus=False):
            yield Static("", id="review-lines")

    def on_mount(self) -> None:
        """Follow which view is open."""
        self.watch(self.query_one(ViewNames), "opened", self._show_view, init=False)

    def read(self, store: Store) -> MonthAnswer:
        from logbook.reports.month import answer as month
        from logbook.snapshot import take

        return month.answer(take(store, self.logbook.now().date()), month=self._month)

    def show(self, model: MonthAnswer) -> None:
        self._answer = model
        self._first = min([self._asked, *(month_number(row.month) for row in model.before), self._first or self._asked])
        self._draw()
        # What can be stepped to is known only now.
        self.query_one(HintLine).refresh()

    @property
    def _this_month(self) -> int:
        return month_number(f"{self.logbook.now():%Y-%m}")

    @property
    def _asked(self) -> int:
        return self._this_month if self._month is None else month_number(self._month)

    @property
    def answer(self) -> MonthAnswer | None:
        """The month that is shown."""
        return self._answer

    def step(self, by: int) -> None:
        """Go to the month before or after the one asked for last."""
        if self.can_step(by):
            there = self._asked + by
            self._month = None if there == self._this_month else month_name(there)
            self.ask_again()

    def can_step(self, by: int) -> bool:
        """Whether there is a month to go to: none before the first print, none after the running month."""
        if self._first is None:
            return False
        return self._first <= self._asked + by <= self._this_month

    @property
    def _view(self) -> str:
        return self.query_one(ViewNames).opened

    def _show_view(self) -> None:
        """Show the opened view, from its beginning."""
        self.query_one("#review", VerticalScroll).scroll_home(animate=False)
        self._draw()

    async def open_prints(self) -> None:
        """Lay the prints of the month over the place."""
        from logbook.tui.places.month.prints import MonthPrints

        if self._answer is None:
            return
        row = self._papers.row if self._view == "papers" else None
        paper, name = (row.paper, row.name) if row is not None else (None, "")
        await self.app.push_screen(MonthPrints(self._answer.month, paper, name))

    @on(Lines.Chosen)
    async def _paper_chosen(self) -> None:
        await self.open_prints()

    def on_resize(self) -> None:
        """Other lines may fit."""
        self.call_after_refresh(self._draw)

    def _draw(self) -> None:
        answer = self._answer
        if answer is None:
            return
        papers = self._view == "papers"
        width = self.query_one("#body").content_size.width - 1
        self.query_one("#month-sentence", Static).update(Content(first_sentence(answer)))
        for widget in (self._papers, self.query_one(Headings)):
            widget.display = papers
        self.query_one("#review").display = not papers
        if papers:
            self._papers.show_rows(paper_rows(answer))
            self._papers.focus()
        else:
            self.set_focus(None)
            self.query_one("#review-lines", Static).update(Content("\n").join(view_lines(self._view, answer, width)))


def _page_of(store: Store, folder: Path, answer: MonthAnswer) -> Path:
    from logbook.reports.month.written.html import write_html

    path = folder / f"month-{answer.month}.html"
    write_html(path, answer, replace=True)
    return path
