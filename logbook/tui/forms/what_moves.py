"""What saving something would change in the answers, worked out before it is saved."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from functools import partial
from typing import TYPE_CHECKING, Protocol

from textual import work
from textual.timer import Timer
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.tui.shell import shell_of

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry

    Action = Callable[[Store], Entry]

KEYS_REST_S = 0.3
WORKING_OUT = "What that changes in the answers is being worked out …"


class Acts(Protocol):
    """A form, as far as it is tried."""

    def act(self) -> Action:
        """The action that saving it would run; ``Refused`` where it cannot be saved as it stands."""


class WhatMoves(Static):
    """The line that says it; empty until something is tried."""

    DEFAULT_CSS = "WhatMoves { height: auto; min-height: 1; padding: 0 1; color: $quiet; }"

    def __init__(self, day: date, today: date) -> None:
        super().__init__("", markup=False)
        self.days = day, today
        self._timer: Timer | None = None

    def follow(self, form: Acts) -> None:
        """Something was typed in ``form``: try it once the typing pauses."""
        if self._timer is not None:
            self._timer.stop()
        self.workers.cancel_group(self, "moves")
        self.update("")
        self._timer = self.set_timer(KEYS_REST_S, partial(self._try, form))

    def _try(self, form: Acts) -> None:
        try:
            action = form.act()
        except (Refused, ValueError):
            return  # it is half typed, or said when it is saved
        self.say_of(action, "Saved like this: ")

    def forget(self) -> None:
        """Nothing is tried any more."""
        self.workers.cancel_group(self, "moves")
        self.update("")

    @work(exclusive=True, group="moves")
    async def say_of(self, action: Action, begins: str, ends: str = "") -> None:
        """Work out what ``action`` would change, and say it between ``begins`` and ``ends``."""
        self.update(f"{WORKING_OUT}{ends}")
        try:
            said = await shell_of(self).study.run(partial(what_moves, action=action, days=self.days))
        except (Refused, ValueError) as error:
            said = error.what if isinstance(error, Refused) else str(error)
        self.update(f"{begins}{said}.{ends}")


def what_moves(store: Store, action: Action, days: tuple[date, date]) -> str:
    """What ``action`` would change in the answers, in words; ``days`` are the day put right and today. Saves nothing."""
    from logbook.reports.bench.moves import figures, moves_in_words
    from logbook.snapshot import take
    from logbook.store.supposing import supposing

    day, today = days
    before = figures(take(store, today), day)
    with supposing(store) as copy:
        action(copy)
        return moves_in_words(before, figures(take(copy, today), day))
