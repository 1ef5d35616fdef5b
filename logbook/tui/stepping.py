"""Undo and redo: one step back or forward in the journal, and what is said of it."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING

from logbook.actions.refusal import Refused
from logbook.tui.events import LogbookChanged

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.app import LogbookApp

    Step = Callable[[Store], Entry | None]


async def step_back(app: LogbookApp) -> None:
    """Take back the last entry that stands."""
    await _step(app, _back, "Undone: {0} · {1} does it again", "redo", "There is nothing to undo.")


async def step_forward(app: LogbookApp) -> None:
    """Do the last undone entry again."""
    await _step(app, _forward, "Done again: {0} · {1} undoes it", "undo", "There is nothing to redo.")


def _back(store: Store) -> Entry | None:
    from logbook.store import journal

    return journal.undo(store)


def _forward(store: Store) -> Entry | None:
    from logbook.store import journal

    return journal.redo(store)


async def _step(app: LogbookApp, step: Step, done: str, opposite: str, nothing: str) -> None:
    try:
        entry = await app.desk.run(step)
    except (Refused, ValueError) as error:
        app.say(str(error))
        return
    if entry is None:
        app.say(nothing)
        return
    app.say(done.format(entry.said, app.key_of(opposite)))
    app.post_message(LogbookChanged())
