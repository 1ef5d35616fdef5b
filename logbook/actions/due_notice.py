"""That a batch has become due is said once on the day it does, however often the program is opened."""

from __future__ import annotations

import datetime as dt

from logbook.records.fields import Black
from logbook.store import Store, preferences

__all__ = ["first_said"]

KEY = "batch.said_due"


def first_said(store: Store, black: Black, today: dt.date) -> bool:
    """Whether it has not been said on ``today`` yet that a batch of this ``black`` is due; from now on it has."""
    said = [today.isoformat(), black]
    if store.only_to_read or preferences.read(store, KEY) == said:
        return False
    preferences.write(store, KEY, said)
    return True
