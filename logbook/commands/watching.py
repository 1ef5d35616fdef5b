"""Doing a thing again and again until stopped."""

from __future__ import annotations

import re
import signal
import time
from collections.abc import Callable

import click

from logbook.records.refusal import Refusal
from logbook.records.text import plain

SECONDS = {"s": 1, "m": 60, "h": 3600}
_EVERY = re.compile(r"(\d{1,5})\s*([smh])")


def seconds(_: click.Context, __: click.Parameter, typed: str | None) -> int | None:
    """A stretch of time such as ``30s``, ``10m`` or ``2h``, in seconds."""
    if typed is None:
        return None
    found = _EVERY.fullmatch(typed.strip().lower())
    if found is None or int(found[1]) == 0:
        raise click.BadParameter("type a time such as 30s, 10m or 2h")
    return int(found[1]) * SECONDS[found[2]]


def every(every_s: int, look: Callable[[], object]) -> None:
    """Call ``look`` every ``every_s`` seconds until ctrl-c; what it refuses is said, and may go better the next time."""
    signal.signal(signal.SIGINT, signal.default_int_handler)  # a shell starts what runs in the background deaf to it
    due = time.monotonic()
    try:
        while True:
            try:
                look()
            except Refusal as refused:
                click.echo(plain(str(refused)), err=True)
            due = max(due + every_s, time.monotonic())
            time.sleep(max(0.0, due - time.monotonic()))
    except KeyboardInterrupt:
        click.echo("Stopped", err=True)


def spoken(seconds: int) -> str:
    """A stretch of time in words.

    >>> spoken(600), spoken(3600), spoken(45)
    ('10 minutes', '1 hour', '45 s')
    """
    for letter, unit in (("h", 3600), ("m", 60)):
        if seconds % unit == 0:
            return f"{seconds // unit} {'hour' if letter == 'h' else 'minute'}{'' if seconds == unit else 's'}"
    return f"{seconds} s"
