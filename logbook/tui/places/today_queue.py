"""What came from the print queue, above the day's prints: each job is confirmed, opened, or said to be none."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from textual.content import Content

from logbook.records.text import plain
from logbook.records.units import size_text
from logbook.records.wording import counted
from logbook.tui.commands.command import Command, bindings
from logbook.tui.running.events import LogbookChanged
from logbook.tui.widgets.lists.columns import Column, line
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.actions.queue import Taken, Waiting
    from logbook.tui.shell import Shell

MOST_SHOWN = 6
WIDE = 92
COLUMNS = (
    Column("printed", 6),
    Column("picture", 18, share=2, names=True),
    Column("copies", 4, right=True),
    Column("paper", 20, names=True),
    Column("size", 12, right=True),
    Column("told", 12, share=2),
)


class ConfirmFromTheQueue(Command):
    """Log the chosen job's prints as they stand, every copy of them."""

    key, label, scope = "enter", "confirm it", "today"

    async def run(self, app: Shell) -> None:
        job = _chosen(app)
        if job is None:
            return
        from logbook.actions import queue

        await app.save(partial(queue.confirm, job=job))

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _chosen(app) is not None


class JudgeFromTheQueue(Command):
    """Confirm the chosen job and judge its copies, all at once or some of them; then the next job is there to be judged."""

    key, label, scope = "v", "confirm and judge", "today"

    async def run(self, app: Shell) -> None:
        job = _chosen(app)
        if job is None:
            return
        from logbook.tui.forms.judging.judge import judge_in_turn, read_job

        await judge_in_turn(app, partial(read_job, job=job, now=app.now()))

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _chosen(app) is not None


class OpenFromTheQueue(Command):
    """Open the chosen job as a form, to change what is different before it is logged."""

    key, label, scope = "e", "open it", "today"

    async def run(self, app: Shell) -> None:
        job = _chosen(app)
        if job is None:
            return
        from logbook.tui.commands.open_form import open_form
        from logbook.tui.forms.print import model as print_model
        from logbook.tui.forms.print.form import PrintFormScreen

        await open_form(app, partial(print_model.from_the_queue, job=job), PrintFormScreen)

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _chosen(app) is not None


class NoPrint(Command):
    """Say that the chosen job was no print: a test page, say."""

    key, label, scope = "x", "it was no print", "today"

    async def run(self, app: Shell) -> None:
        job = _chosen(app)
        if job is None:
            return
        from logbook.actions import queue

        await app.desk.run(partial(queue.pass_over, job=job))
        app.say(f"{plain(job.title)}: no print · {app.key_of(BringBack.id())} brings it back")
        app.post_message(LogbookChanged())

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return _chosen(app) is not None


class BringBack(Command):
    """Let the job that was last said to be no print wait again."""

    key, label, scope, hinted = "z", "bring a job back", "today", False

    async def run(self, app: Shell) -> None:
        from logbook.actions import queue

        number = await app.desk.run(queue.bring_back)
        app.say(f"{counted(number, 'print')} from the queue again" if number else "No job was passed over")
        app.post_message(LogbookChanged())


class AskTheQueue(Command):
    """Ask the print queue for the jobs it has finished. The address is asked for once, and nothing else is contacted."""

    key, label, scope = "Q", "ask the queue", "today"

    async def run(self, app: Shell) -> None:
        from logbook.actions import queue
        from logbook.tui.forms.ink.queue_address import QueueAddressForm

        kept = await app.desk.run(queue.address_kept)
        if kept is None:
            await QueueAddressForm().open_over(app, then=lambda entry: _ask_again(app) if entry is not None else None)
        else:
            ask(app, kept)


def _ask_again(app: Shell) -> None:
    app.call_later(partial(app.action_perform, AskTheQueue.id()))


def ask(app: Shell, address: str) -> None:
    """Ask, beside what is shown, and say what came."""
    app.say("Asking the queue …")
    app.run_worker(_ask(app, address), group="queue", exclusive=True)


async def _ask(app: Shell, address: str) -> None:
    from logbook.actions import queue
    from logbook.link import ask_jobs_aside, parse_address
    from logbook.records.refusal import Refusal

    try:
        asked = parse_address(address)
        jobs = await ask_jobs_aside(asked)
        taken = await app.desk.run(partial(queue.take, address=asked, jobs=jobs))
    except Refusal as refused:
        app.say(plain(str(refused)))
        return
    app.say(taken_words(taken))
    app.post_message(LogbookChanged())


def taken_words(taken: Taken) -> str:
    """What came of asking."""
    new = f"{counted(taken.new, 'print')} came from the queue" if taken.new else "The queue has nothing new"
    broken_off = f"; {counted(len(taken.broken_off), 'job')} broken off, no print" if taken.broken_off else ""
    return new + broken_off


COMMANDS = (ConfirmFromTheQueue, JudgeFromTheQueue, OpenFromTheQueue, NoPrint)


class QueueLines(Lines["Waiting"]):
    """The jobs that wait, one line each."""

    BINDINGS = bindings(COMMANDS)
    DEFAULT_CSS = """
    QueueLines { height: auto; margin: 0 0 1 0; display: none; }
    QueueLines.-some { display: block; }
    """

    def __init__(self) -> None:
        super().__init__(_line, id="queue")

    def show_jobs(self, jobs: tuple[Waiting, ...]) -> None:
        """Show these jobs; the last that is dealt with hands the focus to the prints."""
        self.set_class(bool(jobs), "-some")
        self.styles.height = min(len(jobs), MOST_SHOWN)
        self.show_rows(jobs)


def _line(job: Waiting, width: int) -> Content:
    form = job.form
    size = size_text(form.width_mm, form.height_mm) if form.width_mm and form.height_mm else "no size"
    cells: list[str | Content] = [
        Content.styled("test" if job.planned else f"{job.copies[0].at:%H:%M}", "$quiet"),
        plain(job.title),
        "" if job.number == 1 else f"× {job.number}",
        plain(job.paper) or Content.styled("no paper", "$asks"),
        size,
        Content.styled(plain(job.told), "$quiet"),
    ]
    if width < WIDE and job.planned:  # what tells its sheets apart comes before what they share
        cells[1], cells[3] = plain(job.told), plain(job.title)
    columns = COLUMNS if width >= WIDE else COLUMNS[:-1]
    return line(columns, cells[: len(columns)], width)


def words(jobs: tuple[Waiting, ...]) -> str:
    """What stands above the jobs; nothing where none waits."""
    sheets = sum(job.planned for job in jobs)
    prints = sum(job.number for job in jobs) - sheets
    if sheets and not prints:
        wait = "waits" if sheets == 1 else "wait"
        return f"{counted(sheets, 'sheet')} of a planned test {wait}: enter logs one, x leaves it out."
    if not prints:
        return ""
    test = f" And {counted(sheets, 'sheet')} of a planned test." if sheets else ""
    return f"{counted(prints, 'print')} came from the queue: enter confirms, v judges too, x: it was none.{test}"


def _chosen(app: Shell) -> Waiting | None:
    focused = app.screen.focused
    return focused.row if isinstance(focused, QueueLines) else None
