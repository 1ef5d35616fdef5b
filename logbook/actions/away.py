"""Days away from the bench: a setting of this logbook, not a record."""

from __future__ import annotations

import datetime as dt

from logbook.actions.refusal import Refused
from logbook.store import Store, preferences

__all__ = ["Away", "add", "read", "remove"]

#: Away from the first date to the second, both included.
Away = tuple[dt.date, dt.date]

KEY = "bench.away"
MOST = 200


def read(store: Store) -> tuple[Away, ...]:
    """The times away, the earliest first."""
    kept = preferences.read(store, KEY, [])
    return tuple(sorted((dt.date.fromisoformat(first), dt.date.fromisoformat(last)) for first, last in kept))


def add(store: Store, first: dt.date, last: dt.date) -> None:
    """Be away from ``first`` to ``last``, both included."""
    if last < first:
        raise Refused("until", "lies before the first day away")
    times = {*read(store), (first, last)}
    if len(times) > MOST:
        raise Refused("from", f"more than {MOST} times away are kept; take old ones out first")
    _write(store, times)


def remove(store: Store, first: dt.date, last: dt.date) -> None:
    """Not away from ``first`` to ``last`` after all."""
    _write(store, set(read(store)) - {(first, last)})


def _write(store: Store, times: set[Away]) -> None:
    preferences.write(store, KEY, [[first.isoformat(), last.isoformat()] for first, last in sorted(times)] or None)
