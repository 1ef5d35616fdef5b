"""What a linked printer says it has made, as read together with its levels."""

from datetime import datetime

from logbook.records import Gauge
from logbook.snapshot.snapshot import Snapshot


def sheet_counts(log: Snapshot, printer: str) -> list[tuple[datetime, int]]:
    """The printer's own counts (when, sheets so far) up to the snapshot's day, each once.

    With one lower than before they begin anew: another printer stands there.
    """
    counts: list[tuple[datetime, int]] = []
    for gauge in log.of_printer(Gauge, printer):
        if gauge.sheets_counted is None or gauge.at.date() > log.day:
            continue
        if counts and gauge.sheets_counted < counts[-1][1]:
            counts = []
        if not counts or counts[-1][1] != gauge.sheets_counted:
            counts.append((gauge.at, gauge.sheets_counted))
    return counts
