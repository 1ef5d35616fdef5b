"""How many sheets a linked printer says it has made, each time it was asked: kept beside the log, never exported."""

from datetime import datetime

from logbook.snapshot.sheet_counts import COUNTS, counts_of
from logbook.store import Store, preferences

MOST_KEPT = 1_000


def keep(store: Store, printer: str, at: datetime, sheets: int | None) -> None:
    """Keep a count, where the printer tells one and it has moved. A lower one than before begins anew: another printer's."""
    if sheets is None:
        return
    kept = counts_of(preferences.read(store, f"{COUNTS}:{printer}", []))
    if kept and sheets == kept[-1][1]:
        return
    if kept and sheets < kept[-1][1]:
        kept = []
    told = [*kept, (at, sheets)][-MOST_KEPT:]
    preferences.write(store, f"{COUNTS}:{printer}", [[when.isoformat(), count] for when, count in told])
