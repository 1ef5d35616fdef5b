"""Undo and redo: one step back or forward in the journal, and what is said of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from logbook.records.refusal import Refused
from logbook.tui.running.events import LogbookChanged

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell

    Step = Callable[[Store], Entry]


async def step_back(app: Shell) -> None:
    """Take back the last entry that stands."""
    from logbook.actions import undoing

    await _step(app, undoing.undo, "Undone: {0} · {1} does it again", "redo")


async def step_forward(app: Shell) -> None:
    """Do the last undone entry again."""
    from logbook.actions import undoing

    await _step(app, undoing.redo, "Done again: {0} · {1} undoes it", "undo")


async def _step(app: Shell, step: Step, done: str, opposite: str) -> None:
    try:
        entry = await app.desk.run(step)
    except (Refused, ValueError) as error:
        app.say(str(error))
        return
    app.say(done.format(entry.said, app.key_of(opposite)))
    app.post_message(LogbookChanged())
