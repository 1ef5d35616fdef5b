"""Keeping what was said of a print before it was made, to be held against how it comes out."""

import msgspec

from logbook.analysis.numeric.interval import Interval
from logbook.records import Print
from logbook.records.settings import Setting
from logbook.snapshot.foretold import KEY, Foretold
from logbook.store import Store, preferences

#: Of more prints than this the oldest are forgotten.
MOST_KEPT = 400


def keep(store: Store, made: Print, within: Interval, advised: Setting | None) -> None:
    """Keep that a print was to fall ``within`` these stops, and the brightening that was ``advised``, where one was."""
    done = made.settings.get("brighten_stops")
    told = Foretold(print=made.id, low=within.low, high=within.high, advised=_stops(advised), done=_stops(done) or 0.0)
    preferences.write(store, KEY, [*preferences.read(store, KEY, []), msgspec.to_builtins(told)][-MOST_KEPT:])


def _stops(value: Setting | None) -> float | None:
    return float(value) if isinstance(value, int | float) else None
