"""The first start: four short forms, one after the other. Each can be skipped, and is found again on Shelf."""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

from logbook.actions import setup
from logbook.snapshot import take
from logbook.snapshot.setup import steps_left
from logbook.tui.commands.command import Command, bindings, key_text
from logbook.tui.forms import form_of_kind
from logbook.tui.forms.commands import GiveUpForm, LeaveForm, NextField, SaveForm
from logbook.tui.forms.form import Form

if TYPE_CHECKING:
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell

WORDS = {
    "printer": "the printer, its inks and its gauge",
    "paper": "a paper and the black it needs",
    "light": "the light you judge prints under",
    "screen": "the screen you prepare pictures on",
}


class _Skip(GiveUpForm):
    """Giving up, as a step calls it: on to the next one."""

    label = "skip this step"

    @classmethod
    def id(cls) -> str:
        return GiveUpForm.id()


class _LeaveAll(LeaveForm):
    """Leaving, as a step calls it: the whole set-up, until it is asked for again."""

    label = "leave the set-up"

    @classmethod
    def id(cls) -> str:
        return LeaveForm.id()


class TableInstead(Command):
    """Leave the set-up for a table of your own prints: it tells the printer and the papers."""

    key, label, scope = "f7", "a table of your own", "form"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.shelf.table_file import TableForm

        if isinstance(app.screen, Form):
            await app.screen.leave()
        await TableForm().open_over(app)


async def set_up(app: Shell) -> None:
    """Go through the steps of which the logbook has nothing yet."""
    await _next(app, await app.desk.run(lambda store: steps_left(take(store))))


async def _next(app: Shell, steps: tuple[str, ...], *, once_more: bool = False) -> None:
    if not steps:
        app.desk.submit(setup.leave)
        app.say(f"Set up. What was skipped stands on Shelf; {app.key_of('another-print')} logs a print.")
        return
    form = step_form(steps[0], _heading(app, steps[0], once_more=once_more))
    instead = (TableInstead,) if steps[0] == "printer" else ()
    form.hinted = (SaveForm, NextField, *instead, _Skip, _LeaveAll)
    await form.open_over(app, then=partial(_stepped, app, steps, form))


def _stepped(app: Shell, steps: tuple[str, ...], form: Form, entry: Entry | None) -> None:
    """Saved or skipped: on to the next step, after a paper to a further one. Left: nothing more asks by itself."""
    if entry is None and not form.given_up:
        app.desk.submit(setup.leave)
        kept = ", with what you typed kept" if form.draft.touched else ""
        app.say(f"Set-up left{kept}; {app.key_of('set-up')} goes on with it. All of it is found on Shelf.")
        return
    if entry is None:
        app.say("Skipped; it is found again on Shelf.")
    further = entry is not None and steps[0] == "paper"
    app.call_next(partial(_next, app, steps if further else steps[1:], once_more=further))


def _heading(app: Shell, step: str, *, once_more: bool) -> str:
    number = list(WORDS).index(step) + 1
    skip = key_text(app.key_of(GiveUpForm.id()))
    words, skips = ("another paper", "goes on without") if once_more else (WORDS[step], "skips it")
    return f"Step {number} of {len(WORDS)}: {words} · {skip} {skips}"


def step_form(step: str, heading: str) -> Form:
    """The form of one step."""
    if step == "printer":
        from logbook.tui.forms.shelf.printer import PrinterForm

        class PrinterStep(PrinterForm):
            BINDINGS = bindings((TableInstead,))

        return PrinterStep(heading=heading)
    form: Form = form_of_kind(step)(heading=heading)
    return form
