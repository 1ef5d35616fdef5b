"""What an empty logbook still needs before a print can be logged."""

from logbook.records import Light, Paper, Printer, Record, Screen
from logbook.snapshot.snapshot import Snapshot

STEPS = ("printer", "paper", "light", "screen")
LEFT = "set-up left"  # among the preferences
_KINDS: dict[str, type[Record]] = {"printer": Printer, "paper": Paper, "light": Light, "screen": Screen}


def asks_by_itself(log: Snapshot) -> bool:
    """Whether nothing of the steps is there yet and the set-up was never left: it opens without being asked for."""
    return log.preference(LEFT) is None and steps_left(log) == STEPS


def steps_left(log: Snapshot) -> tuple[str, ...]:
    """The steps of which the logbook has nothing yet: ``printer``, ``paper``, ``light``, ``screen``."""
    return tuple(step for step in STEPS if not log.all(_KINDS[step]))
