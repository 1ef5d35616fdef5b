"""A day put right: everything that was logged for it, each line opened, given another time, or taken out."""

from __future__ import annotations

from datetime import date, timedelta
from functools import partial
from typing import TYPE_CHECKING, ClassVar, cast

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records import KINDS
from logbook.records.wording import date_in_full
from logbook.tui.commands.command import Command
from logbook.tui.commands.open_form import open_form
from logbook.tui.forms.what_moves import WhatMoves
from logbook.tui.places.place import BackFromPage, Place
from logbook.tui.widgets.lists.columns import Column, line
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.reports.bench.day import DayLine
    from logbook.store import Store
    from logbook.tui.forms.form import Form
    from logbook.tui.shell import Shell

    Shown = tuple[date, tuple[DayLine, ...]]

COLUMNS = (Column("", 5), Column("", 13), Column("", 16, share=1, names=True), Column("", 20, share=2))


def _page(app: Shell) -> DayPage:
    return cast(DayPage, app.place)


class OpenLine(Command):
    """Open what is logged on this line, to correct it or give it another time."""

    key, label, scope = "enter,e", "open it", "day"

    async def run(self, app: Shell) -> None:
        await _page(app).open_line()


class TakeOutLine(Command):
    """Say what the answers would be without this line; once more takes it out of the log, and undo brings it back."""

    key, label, scope = "d", "take it out", "day"

    async def run(self, app: Shell) -> None:
        await _page(app).take_out_line()


class DayBefore(Command):
    """Go to the day before."""

    key, label, scope = "left_square_bracket,left", "day before", "day"
    by: ClassVar[int] = -1

    async def run(self, app: Shell) -> None:
        _page(app).turn(self.by)


class DayAfter(DayBefore):
    """Go to the day after."""

    key, label, scope = "right_square_bracket,right", "day after", "day"
    by = 1


class BackFromDay(BackFromPage):
    """Leave the day; where a line is about to be taken out, leave it in."""

    key, label, scope = "escape,backspace", "back", "day"

    async def run(self, app: Shell) -> None:
        if not _page(app).leave_it_in():
            await super().run(app)


class DayPage(Place["Shown"]):
    """A day as it was logged: prints, judgements, levels, changeovers, cartridges, cleanings, rolls, orders.

    Enter opens the form of a line: correct it, or give it another time. While you do, a line below says what that changes in
    the answers; d says what they would be without the line, and d again takes it out. u undoes either. [ and ] go to the
    day before and after; esc goes back.
    """

    OF = "Today"
    COMMANDS_HERE = (OpenLine, TakeOutLine, DayBefore, DayAfter, BackFromDay)
    HINTS = ("open-line", "take-out-line", "day-before", "day-after", "undo", "back-from-day")

    def __init__(self, day: date) -> None:
        super().__init__()
        self._day = day
        self._lines: Lines[DayLine] = Lines(
            _draw, id="lines", empty="Nothing is logged for this day. Press [ for the day before."
        )
        self._moves = WhatMoves(day, day)
        self._to_go: str | None = None  # the line that is about to be taken out

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="of-the-day")
        yield self._lines
        yield self._moves

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> Shown:
        from logbook.reports.bench.day import lines_of
        from logbook.snapshot import take

        day = self._day
        return day, lines_of(take(store, self.logbook.now().date()), day)

    def show(self, model: Shown) -> None:
        day, lines = model
        chosen = self.row.id if self.row is not None else None
        self.query_one("#of-the-day", Static).update(Content(f"{day:%A} {date_in_full(day)}"))
        self._lines.show_rows(lines)
        places = [at for at, line in enumerate(lines) if line.id == chosen]
        self._lines.at = places[0] if places else min(self._lines.at, max(0, len(lines) - 1))

    @property
    def row(self) -> DayLine | None:
        """The line under the cursor."""
        return self._lines.row

    def chosen_print(self) -> str | None:
        """The print of the line under the cursor, or the one that it judges."""
        return self.row.print if self.row is not None else None

    def turn(self, by: int) -> None:
        """To a day before or after."""
        self.leave_it_in()
        self._day += timedelta(days=by)
        self._lines.at = 0
        self.ask_again()

    async def open_line(self) -> None:
        """Lay the form of the line under the cursor over the day."""
        self.leave_it_in()
        if self.row is None:
            return
        if self.row.kind == "print":
            from logbook.tui.forms.print import model
            from logbook.tui.forms.print.form import PrintFormScreen

            read = partial(model.correction, print_id=self.row.id)
            await open_form(self.logbook, read, lambda known: self._telling(PrintFormScreen(known)))
            return
        from logbook.tui.forms.record_form import changing, made_as_read

        change = partial(changing, kind=self.row.kind, record_id=self.row.id)
        await open_form(self.logbook, change, lambda make: self._telling(made_as_read(make)))

    def _telling(self, form: Form) -> Form:
        """The form, with the line that says what saving it changes."""
        form.moves = WhatMoves(self._day, self.logbook.now().date())
        return form

    async def take_out_line(self) -> None:
        """Say what the answers would be without the line under the cursor; asked once more, take it out."""
        from logbook.actions.putting_right import take_out

        if self.row is None:
            return
        action = partial(take_out, kind=KINDS[self.row.kind], id=self.row.id)
        if self._to_go == self.row.id:
            self.leave_it_in()
            await self.logbook.save(action)
        else:
            self._to_go = self.row.id
            self._moves.days = self._day, self.logbook.now().date()
            self._moves.say_of(action, "Without it: ", " d once more takes it out, esc leaves it in.")

    def leave_it_in(self) -> bool:
        """Nothing is taken out; whether anything was about to be."""
        was, self._to_go = self._to_go, None
        self._moves.forget()
        return was is not None

    @on(Lines.Moved)
    def _moved(self) -> None:
        self.leave_it_in()

    @on(Lines.Chosen)
    async def _chosen(self, event: Lines.Chosen) -> None:
        await self.open_line()


def _draw(row: DayLine, width: int) -> Content:
    when = Content.styled(f"{row.at:%H:%M}" if row.at is not None else "", "$quiet")
    return line(COLUMNS, [when, row.what, row.name, Content.styled(row.about, "$quiet")], width)
