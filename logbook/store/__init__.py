"""The logbook's file: SQLite through sqlite-utils. All SQL lives here."""

from logbook.store.opening import Store, open_store
from logbook.store.refusals import InUse, StoreRefused, Unwritable

__all__ = ["InUse", "Store", "StoreRefused", "Unwritable", "open_store"]
