"""Long work told step by step, and given up where nobody waits for it any more.

Whoever runs it on a thread says with ``asked_for`` whom to tell. Work that nobody listens to runs as ever.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

Told = Callable[[str], bool]
_listener: ContextVar[Told | None] = ContextVar("_listener", default=None)


class GivenUp(Exception):
    """Nobody waits for the answer any more; nothing was changed."""


@contextmanager
def asked_for(told: Told) -> Iterator[None]:
    """Tell ``told`` of every step of this thread's work; the work is given up once it returns False."""
    token = _listener.set(told)
    try:
        yield
    finally:
        _listener.reset(token)


def still_asked(doing: str = "") -> bool:
    """Tell what is being done, where words are given, and whether anybody still waits for it."""
    told = _listener.get()
    return told is None or told(doing)


def step(doing: str = "") -> None:
    """Between two steps of long work: tell what comes next. Raises ``GivenUp`` where nobody waits for it any more.

    >>> with asked_for(lambda doing: doing != "reading 2 prints"):
    ...     step("reading 1 print")
    ...     step("reading 2 prints")
    Traceback (most recent call last):
    logbook.records.long_work.GivenUp
    """
    if not still_asked(doing):
        raise GivenUp
