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
    await _step(app, _back, "Undone: {0} · {1} does it again", "redo")


async def step_forward(app: Shell) -> None:
    """Do the last undone entry again."""
    await _step(app, _forward, "Done again: {0} · {1} undoes it", "undo")


def _back(store: Store) -> Entry:
    from logbook.actions import undoing

    return undoing.undo(store)


def _forward(store: Store) -> Entry:
    from logbook.actions import undoing

    return undoing.redo(store)


async def _step(app: Shell, step: Step, done: str, opposite: str) -> None:
    try:
        entry = await app.desk.run(step)
    except (Refused, ValueError) as error:
        app.say(str(error))
        return
    app.say(done.format(entry.said, app.key_of(opposite)))
    app.post_message(LogbookChanged())
