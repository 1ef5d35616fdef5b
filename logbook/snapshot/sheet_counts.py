"""What a linked printer says it has made, as kept beside the log."""

from datetime import datetime
from typing import Any

import msgspec

from logbook.snapshot.snapshot import Snapshot

COUNTS = "sheets_counted"


def counts_of(kept: Any) -> list[tuple[datetime, int]]:
    """The counts (when, sheets so far) from the kept choice; none where it makes no sense."""
    try:
        return msgspec.convert(kept, list[tuple[datetime, int]])
    except msgspec.ValidationError:
        return []


def sheet_counts(log: Snapshot, printer: str) -> list[tuple[datetime, int]]:
    """The printer's own counts up to the snapshot's day, in time order."""
    return [(at, sheets) for at, sheets in counts_of(log.preference(f"{COUNTS}:{printer}", [])) if at.date() <= log.day]
