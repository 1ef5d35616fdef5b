"""The first start: four short forms, one after the other. Each can be skipped, and is found again on Shelf."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from logbook.tui.form import Form

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.app import LogbookApp

WORDS = {
    "printer": "the printer, its inks and its gauge",
    "paper": "a paper and the black it needs",
    "light": "the light you judge prints under",
    "screen": "the screen you prepare pictures on",
}


async def set_up(app: LogbookApp) -> None:
    """Go through the steps of which the logbook has nothing yet."""
    await _next(app, await app.desk.run(_steps_left))


async def _next(app: LogbookApp, steps: tuple[str, ...]) -> None:
    if not steps:
        app.say("Set up. What was skipped stands on Shelf; n logs a print.")
        return
    form = step_form(steps[0], len(WORDS) - len(steps) + 1)
    await app.open_form(form, then=partial(_stepped, app, steps[1:]))


def _stepped(app: LogbookApp, steps: tuple[str, ...], entry: Entry | None) -> None:
    """Saved or skipped: on to the next step."""
    app.call_next(_next, app, steps)


def step_form(step: str, number: int) -> Form:
    """The form of one step."""
    from logbook.tui.forms.light_form import LightForm
    from logbook.tui.forms.paper_form import PaperForm
    from logbook.tui.forms.printer_form import PrinterForm
    from logbook.tui.forms.screen_form import ScreenForm

    heading = f"Step {number} of {len(WORDS)}: {WORDS[step]} · esc skips it"
    forms: dict[str, Callable[[], Form]] = {
        "printer": lambda: PrinterForm(heading=heading),
        "paper": lambda: PaperForm(heading=heading),
        "light": lambda: LightForm(heading=heading),
        "screen": lambda: ScreenForm(heading=heading),
    }
    return forms[step]()


def _steps_left(store: Store) -> tuple[str, ...]:
    from logbook.actions import setup

    return setup.steps_left(store)
