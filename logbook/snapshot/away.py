"""Days away from the bench: a setting of this logbook, not a record."""

from __future__ import annotations

import datetime as dt

from logbook.snapshot.snapshot import Snapshot

#: Away from the first date to the second, both included.
Away = tuple[dt.date, dt.date]

KEY = "bench.away"


def times_away(log: Snapshot) -> tuple[Away, ...]:
    """The times away, the earliest first."""
    kept = log.preference(KEY, [])
    return tuple(sorted((dt.date.fromisoformat(first), dt.date.fromisoformat(last)) for first, last in kept))
