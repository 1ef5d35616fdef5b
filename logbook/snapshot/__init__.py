"""One frozen reading of the logbook, and what follows from it at the bench: what reports and actions both ask."""

from logbook.snapshot.snapshot import Snapshot, answered, take

__all__ = ["Snapshot", "answered", "take"]
