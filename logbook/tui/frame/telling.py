"""While an answer takes long, the rule at the bottom says what is being done for it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from logbook.tui.running.store_thread import StoreThread
    from logbook.tui.shell import Shell

SECONDS_BETWEEN_LOOKS = 0.3  # sooner than that, an answer is there before anybody could read what is done for it
UNTOLD = "working it out"


@contextmanager
def telling(app: Shell, thread: StoreThread) -> Iterator[None]:
    """Say from time to time what ``thread`` is doing, until the work within is done or left."""
    timer = app.set_interval(SECONDS_BETWEEN_LOOKS, partial(_look, app, thread))
    try:
        yield
    finally:
        timer.stop()
        app.say_doing("")


def _look(app: Shell, thread: StoreThread) -> None:
    doing = thread.doing or UNTOLD
    app.say_doing(f"{doing[:1].upper()}{doing[1:]} … {app.key_of('stop-waiting')} stops it")
