"""Days away from the bench: a setting of this logbook, not a record."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.records.refusal import Refused
from logbook.snapshot.away import KEY, Away
from logbook.snapshot.clock import now
from logbook.store import Store, preferences
from logbook.store.journal import Entry

MOST = 200


def keep(store: Store, times: Iterable[Away]) -> Entry:
    """Be away at these times and at no others. It is no record, and undo does not reach it."""
    wanted = sorted(set(times))
    for first, last in wanted:
        if last < first:
            raise Refused("until", "lies before the first day away")
    if len(wanted) > MOST:
        raise Refused("from", f"at most {MOST} times away are kept; take old ones out first")
    preferences.write(store, KEY, [[first.isoformat(), last.isoformat()] for first, last in wanted] or None)
    said = "No days away" if not wanted else "Days away noted"
    return Entry(entry=0, at=now(), said=said, state="nothing")
