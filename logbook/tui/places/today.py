"""Today: the printer now, the day's prints, and what waits for a judgement."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.tui.commands.command import Command, bindings
from logbook.tui.frame.hint_line import HintLine
from logbook.tui.places import today_queue
from logbook.tui.places.place import Place
from logbook.tui.places.prints.lines import PrintLines
from logbook.tui.running.events import LogbookChanged
from logbook.tui.widgets.ink_levels import InkLevels

if TYPE_CHECKING:
    from logbook.actions.queue import Waiting
    from logbook.reports.bench.today import Today as TodayModel
    from logbook.snapshot.unlogged import Unlogged
    from logbook.store import Store
    from logbook.tui.shell import Shell

    Shown = tuple[TodayModel, tuple[Waiting, ...], Unlogged | None]

NO_PRINT_YET = ("another-print", "read-the-gauge", "new-cartridge", "fresh-roll-or-box", "take-an-order")


class SetUp(Command):
    """Describe the printer, a paper, a light and a screen: what the logbook has nothing of yet."""

    key, label, scope = "s", "set up", "today"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.shelf.setting_up import set_up

        await set_up(app)

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return isinstance(app.place, Today) and app.place.steps_left


class NoPrints(Command):
    """Say that the sheets that are not in the log were no prints: nozzle checks and test pages, say."""

    key, label, scope = "Z", "those were no prints", "today"

    async def run(self, app: Shell) -> None:
        from logbook.actions import queue

        await app.desk.run(partial(queue.settle_sheets, at=app.now()))
        app.post_message(LogbookChanged())

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return isinstance(app.place, Today) and bool(app.place.unlogged)


class Today(Place["Shown"]):
    """The printer now, the day's prints, and what waits for a judgement.

    The line under the cursor is the print that l, v and a mean: l logs one more like it, v judges it, a tries it again. On
    top, v goes on from print to print: the newest that waits, and when none does, those that were judged wet and are dry by
    now (“keep?”). n logs another print. Enter opens the print's page. What came from the print queue stands above: enter
    confirms a job with all its copies, v judges them with it and goes on to the next job, e opens it, x says that it was no
    print; Q asks the queue, and Z says that the sheets which are not in the log were no prints. The inks below are as they
    were last read or put in; the black that is out keeps its last level. E shows all that was logged for a day, to put it right.
    """

    PAGES = ("logbook.tui.places.day:DayPage",)
    COMMANDS_HERE = (SetUp, today_queue.AskTheQueue, today_queue.BringBack, NoPrints, *today_queue.COMMANDS)
    BINDINGS = bindings(COMMANDS_HERE[:4])
    HINTS = ("set-up", "no-prints", "one-more-like-this", "judge-it", "another-print", "another-attempt", "exchange-the-black",
             "take-an-order", "undo")  # fmt: skip
    DEFAULT_CSS = """
    Today #day { height: 1; color: $quiet; }
    Today #now { height: auto; padding: 0 0 1 0; }
    Today #start { height: auto; display: none; }
    Today #from-the-queue { height: 1; color: $asks; }
    Today #inks { height: 1; margin: 1 0 0 0; color: $quiet; }
    Today.-empty #start { display: block; }
    Today.-empty Headings, Today.-empty #prints { display: none; }
    """

    def __init__(self) -> None:
        super().__init__()
        self.steps_left = False
        self.unlogged = ""
        self._newest: str | None = None
        self._lines = PrintLines(id="prints")
        self._queue = today_queue.QueueLines()

    def body(self) -> ComposeResult:
        yield Static("", id="day")
        yield Static("", id="now", classes="sentence")
        yield Static("", id="start")
        yield Static("", id="from-the-queue")
        yield self._queue
        yield self._lines.headings()
        yield self._lines
        yield Static("", id="inks")
        yield InkLevels()

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def on_descendant_focus(self) -> None:
        """The keys that matter are those of the list that has the cursor."""
        self.query_one(HintLine).change(self.hints())

    def read(self, store: Store) -> Shown:
        from logbook.reports.bench.today import answer
        from logbook.snapshot import take
        from logbook.snapshot.unlogged import unlogged

        now = self.logbook.now().replace(second=0, microsecond=0)
        return answer(take(store, now.date()), now), _jobs(store), unlogged(store, now.date())

    def show(self, model: Shown) -> None:
        now, jobs, missing = model
        told_by_the_jobs = missing is None or (missing.since == now.today and missing.sheets == sum(job.number for job in jobs))
        self.unlogged = "" if missing is None or told_by_the_jobs else missing.words(now.today)
        self._show_now(now, jobs)
        self._show_jobs(jobs)

    def _show_jobs(self, jobs: tuple[Waiting, ...]) -> None:
        """The jobs, with the cursor among them as long as one waits."""
        self.query_one("#from-the-queue", Static).update(Content(today_queue.words(jobs)))
        self.query_one("#from-the-queue").display = bool(jobs)
        had_some = self._queue.count > 0
        self._queue.show_jobs(jobs)
        if jobs and not had_some and self.focused in (None, self._lines):
            self._queue.focus()
        elif not jobs and had_some:
            self._lines.focus()

    def _show_now(self, model: TodayModel, jobs: tuple[Waiting, ...]) -> None:
        from logbook.reports.bench.today import sentences

        self.steps_left = bool(model.steps_left)
        self.set_class(not model.lines and not jobs, "-empty")
        self.query_one("#day", Static).update(day_line(model))
        said = [*sentences(model), *([self.unlogged] if self.unlogged else []), *_day_words(model)]
        self.query_one("#now", Static).update(Content(" ".join(said)))
        self.query_one("#start", Static).update(start_words(model))
        newest = model.lines[0].id if model.lines else None
        if newest != self._newest:
            self._newest, self._lines.at = newest, 0
        self._lines.show_rows(model.lines)
        self.query_one("#inks", Static).update(Content(_read_words(model)))
        self.query_one(InkLevels).show(model.levels)
        self.query_one(HintLine).change(self.hints())
        self.query_one(HintLine).refresh()

    def hints(self) -> tuple[type[Command], ...]:
        """Without a print there is none to judge or to log another like it."""
        if self.focused is self._queue:
            return today_queue.COMMANDS
        return (SetUp, *(Command.registry[name] for name in NO_PRINT_YET)) if self.has_class("-empty") else super().hints()

    def chosen_print(self) -> str | None:
        """The print under the cursor; on top the newest, also where the list does not show it yet."""
        being_read = self.version_shown != self.logbook.version
        return None if being_read and self._lines.at == 0 else self._lines.chosen_print

    def print_to_judge(self) -> str | None:
        """The print under the cursor; on top the newest that waits, so that v goes on from print to print."""
        return None if self._lines.at == 0 else self._lines.chosen_print


def _jobs(store: Store) -> tuple[Waiting, ...]:
    """What came from the queue; where nothing did, the first screen does not wait for all that reads it."""
    from logbook.store import queued

    if not queued.waiting(store):
        return ()
    from logbook.actions import queue

    return queue.waiting(store)


def day_line(model: TodayModel) -> Content:
    """The day in words, and the printer."""
    day = f"{model.today:%A} {model.today.day} {model.today:%B}"
    return Content(f"{day} · {plain(model.printer)}" if model.printer else day)


def _day_words(model: TodayModel) -> tuple[str, ...]:
    """Said where the list is not of today."""
    if model.day is None or model.day == model.today:
        return ()
    year = f" {model.day.year}" if model.day.year != model.today.year else ""
    return (f"Nothing is printed today yet; these are of {model.day:%A} {model.day.day} {model.day:%B}{year}.",)


def _read_words(model: TodayModel) -> str:
    known = [level.at for level in model.levels if level.at is not None and level.loaded]
    if not model.levels:
        return ""
    if not known:
        return "Inks: no level is noted yet. r reads the gauge, w puts a new cartridge in."
    oldest, newest = min(known).date(), max(known).date()
    days = f"{newest.day} {newest:%b}" if oldest == newest else f"{oldest.day} {oldest:%b} to {newest.day} {newest:%b}"
    return f"Inks as last read, {days}"


def start_words(model: TodayModel) -> Content:
    """What to press on an empty logbook."""
    if model.lines:
        return Content("")
    if not model.steps_left:
        return Content("No print is logged yet. Press n to log the first one.")
    from logbook.tui.forms.shelf.setting_up import WORDS

    steps = [
        Content.assemble(
            ("  · " if step in model.steps_left else "  ● "), words, ("" if step in model.steps_left else "  there", "$quiet")
        )
        for step, words in WORDS.items()
    ]
    nothing = len(model.steps_left) == len(WORDS)
    first = "This logbook is empty. It wants to know:" if nothing else "Not all is set up yet. The logbook wants to know:"
    table = "I brings in a table of your own prints, N notes those of an old notebook."
    rest = "Press s to go through what is left; each step can be skipped, and is found again on Shelf (7)."
    return Content("\n").join([Content(first), Content(""), *steps, Content(""), Content(rest), Content(table)])
