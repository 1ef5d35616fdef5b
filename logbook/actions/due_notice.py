"""That a batch has become due is said once on the day it does, however often the program is opened."""

from __future__ import annotations

import datetime as dt

from logbook.store import Store, preferences

__all__ = ["first_said"]

KEY = "batch.said_due"


def first_said(store: Store, verdict: str, today: dt.date) -> bool:
    """Whether this ``verdict``, which is due, has not been said on ``today`` yet; from now on it has."""
    said = [today.isoformat(), verdict]
    if preferences.read(store, KEY) == said:
        return False
    preferences.write(store, KEY, said)
    return True
