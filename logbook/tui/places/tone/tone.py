"""Tone: which settings print darker than the screen."""

from __future__ import annotations

import datetime as dt
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.tui.commands.command import Command
from logbook.tui.places.place import Place
from logbook.tui.widgets.lists.headings import Headings
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.reports.darkness.tone import Mark, Query
    from logbook.reports.darkness.tone import Tone as Answer
    from logbook.store import Store
    from logbook.tui.forms.judging.judge import JudgeModel
    from logbook.tui.shell import Shell

#: Days looked back, and how that is said; the first is the whole log.
PERIODS = ((None, "whole log"), (365, "last 12 months"), (91, "last 3 months"))
VIEWS = ("settings", "trend", "foretold")
MOST_MARKS = 3
#: A screen lower than this keeps its room for the levels.
LOW = 30


class PaperAfter(Command):
    """Go on to the next paper, the most used first; after the last all papers together."""

    key, label, scope = "right_square_bracket,right", "next paper", "tone"

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, Tone):
            app.place.turn_paper(1)


class PaperBefore(Command):
    """Go back to the paper before."""

    key, label, scope, hinted = "left_square_bracket,left", "paper before", "tone", False

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, Tone):
            app.place.turn_paper(-1)


class OtherPeriod(Command):
    """Look at the whole log, the last twelve months or the last three."""

    key, label, scope = "z", "other period", "tone"

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, Tone):
            app.place.turn_period()


class ShowTrend(Command):
    """Show darkness over time, then what was advised, done and came out; then the settings again."""

    key, label, scope = "tab,y", "other view", "tone"

    async def run(self, app: Shell) -> None:
        if isinstance(app.place, Tone):
            await app.place.turn_view()


class PlanTest(Command):
    """List a small planned test: four prints of one picture that tell several settings apart. w lets them wait on Today."""

    key, label, scope = "T", "plan a test", "tone"

    async def run(self, app: Shell) -> None:
        from logbook.tui.places.tone.planned_test import PlannedTest

        if isinstance(app.place, Tone) and app.place.answer is not None:
            await app.push_screen(PlannedTest(app.place.answer.answer))


class JudgeTheReference(Command):
    """Judge the reference print again: one kept print, looked at every month, tells your eye and lamp from the printer."""

    key, label, scope = "V", "reference print", "tone"

    async def run(self, app: Shell) -> None:
        from logbook.tui.commands.open_form import open_form
        from logbook.tui.forms.judging.judge import JudgeForm

        await open_form(app, partial(_reference, now=app.now()), JudgeForm)


class Tone(Place["Answer"]):
    """Which settings print darker than the screen, and by how much.

    Each line is one level of a setting instead of the one used most: ● is what it does, the line through it holds
    the truth nine times in ten, and the dots behind are the prints as they were judged. Left of ┊ is darker.
    Of a light, a screen or a paper ● is what is left once lux, cd/m² and the paper's white are allowed for.
    “● clear” makes a clear difference, “◐ leaning” probably does, “○ open” is not known.
    Enter opens the prints of a line; T lists four small prints that would tell more. V judges the reference print again:
    one good print that is kept beside the bench and looked at every month tells your eye and your lamp from the printer.
    [ and ] go from paper to paper; z changes the period; tab shows darkness over time, then what was advised, what was
    done and how it came out.
    """

    PAGES = ("logbook.tui.places.tone.level_page:LevelPage",)
    COMMANDS_HERE = (PaperAfter, PaperBefore, OtherPeriod, ShowTrend, PlanTest, JudgeTheReference)
    HINTS = ("paper-after", "other-period", "show-trend", "plan-test", "judge-it", "undo")
    SLOW = True
    DEFAULT_CSS = """
    Tone #head { height: auto; color: $quiet; }
    Tone #said { height: auto; max-height: 8; padding: 0 0 1 0; }
    Tone #marks { height: auto; max-height: 4; color: $quiet; display: none; }
    Tone.-trend Lines, Tone.-trend Headings { display: none; }
    Tone.-trend #marks { display: block; }
    Tone TrendPlot { display: none; }
    Tone.-trend TrendPlot { display: block; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._paper: str | None = None
        self._period = self._view = 0
        self._answer: Answer | None = None
        self._lines: Lines[Any] = Lines(self._draw)

    def body(self) -> ComposeResult:
        yield Static("", id="head", markup=False)
        yield Static("", id="said", markup=False)
        yield Headings(self._lines, self._heading)
        yield self._lines
        yield Static("", id="marks", markup=False)

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    # Asking

    def query_now(self) -> Query:
        """The prints that are asked about."""
        from logbook.reports.darkness.tone import Query

        days = PERIODS[self._period][0]
        since = None if days is None else self.logbook.now().date() - dt.timedelta(days=days)
        return Query(self._paper, since)

    def read(self, store: Store) -> Answer:
        from logbook.reports.darkness.tone import tone
        from logbook.snapshot import take

        return tone(take(store), self.query_now())

    @property
    def answer(self) -> Answer | None:
        """What is shown."""
        return self._answer

    def turn_paper(self, by: int) -> None:
        """Go on by a paper."""
        if self._answer is not None:
            around: tuple[str | None, ...] = (None, *self._answer.papers)
            at = around.index(self._paper) if self._paper in around else 0
            self._paper = around[(at + by) % len(around)]
            self._lines.at = 0
            self.ask_again()

    def turn_period(self) -> None:
        """Go on to the next period."""
        self._period = (self._period + 1) % len(PERIODS)
        self.ask_again()

    async def turn_view(self) -> None:
        """Settings, darkness over time, or what was foretold and how it came out."""
        from logbook.tui.places.tone.trend_plot import TrendPlot

        if not self.query(TrendPlot):
            await self.query_one("#body").mount(TrendPlot(id="trend"), before="#marks")
        self._view = (self._view + 1) % len(VIEWS)
        if not self.set_class(VIEWS[self._view] == "trend", "-trend").has_class("-trend"):
            self._lines.focus()  # it lost the cursor as it was hidden
        self._lines.at = 0
        self._show_rows()
        self._show_trend()

    # Showing

    def show(self, model: Answer) -> None:
        self._answer = model
        self.query_one("#head", Static).update(self._head(model))
        self.query_one("#said", Static).update(self._said(model))
        self._show_rows()
        self._show_trend()

    def show_failure(self, sentence: str) -> None:
        self.query_one("#said", Static).update(Content(plain(sentence)))

    def _head(self, model: Answer) -> Content:
        paper = plain(model.answer.names.of("paper", self._paper)) if self._paper else "all papers"
        count = model.answer.prints_judged
        return Content(f"Tone · {paper} · {PERIODS[self._period][1]} · {counted(count, 'print')} judged")

    def _said(self, model: Answer) -> Content:
        from logbook.reports.darkness.advice_words import advice_sentences
        from logbook.reports.darkness.words import effects_sentence, light_sentences, opening

        answer, low = model.answer, self.has_class("-low")
        if answer.missing and not answer.settings:
            said = [answer.missing, "" if answer.prints_judged else "Press v to judge the newest print."]
            if answer.prints_judged:
                said.insert(0, opening(answer))
        else:
            said = [
                opening(answer, brief=low),
                effects_sentence(answer, most=1) if low else effects_sentence(answer),
                *light_sentences(answer),
                *([] if low else advice_sentences(answer)[:1]),
            ]
        return Content("\n".join(plain(one) for one in said if one))

    def _show_rows(self) -> None:
        if self._answer is None:
            return
        from logbook.tui.places.tone.rows import foretold_rows, rows_of

        rows = foretold_rows if VIEWS[self._view] == "foretold" else rows_of
        self._lines.show_rows(rows(self._answer, self._lines.line_width or self.size.width - 2))
        self.query_one(Headings).refresh()

    def _heading(self, width: int) -> Content:
        from logbook.tui.places.tone.rows import heading

        if self._answer is None or not self._answer.answer.settings or VIEWS[self._view] == "foretold":
            return Content("")
        return heading(self._answer, width)

    def on_resize(self) -> None:
        """The notes below the levels are cut to the width."""
        self.set_class(self.size.height < LOW, "-low")
        self.call_after_refresh(self._show_rows)

    def _draw(self, row: Any, width: int) -> Content:
        from logbook.tui.places.tone.rows import draw

        return draw(row, width)

    def _show_trend(self) -> None:
        if self._answer is None or not self.has_class("-trend"):
            return
        from logbook.tui.places.tone.trend_plot import TrendPlot

        self.query_one(TrendPlot).show(self._answer.points, self._answer.marks)
        self.query_one("#marks", Static).update(_marks_line(self._answer.marks))

    @on(Lines.Chosen)
    async def _chosen(self, event: Lines.Chosen) -> None:
        from logbook.tui.places.tone.level_page import LevelPage
        from logbook.tui.places.tone.rows import LevelRow

        if isinstance(event.row, LevelRow):
            await self.app.push_screen(LevelPage(self.query_now(), event.row.one, event.row.words))


def _reference(store: Store, now: dt.datetime) -> JudgeModel:
    from logbook.reports.darkness.reference import reference
    from logbook.snapshot import take
    from logbook.tui.forms.judging.judge import read

    found = reference(take(store))
    if found is None:
        raise ValueError("A reference print is one that was kept: none is yet")
    return read(store, found.print, now)


def _marks_line(marks: tuple[Mark, ...]) -> Content:
    """What the signs of the trend are: every calibration, and the newest cartridges."""
    from logbook.reports.darkness.tone import CALIBRATED, INSTALLED

    parts = ["● average, and its range nine times in ten"]
    for sign in (CALIBRATED, INSTALLED):
        newest = [mark for mark in reversed(marks) if mark.sign == sign]
        said = [f"{plain(mark.what)} {mark.day.day} {mark.day:%b %Y}" for mark in newest[:MOST_MARKS]]
        more = f", and {len(newest) - MOST_MARKS} before" if len(newest) > MOST_MARKS else ""
        parts += [f"{sign} {', '.join(said)}{more}"] if said else []
    return Content(" · ".join(parts))
