"""Planned tests that were accepted: what they were to tell, as kept beside the log. Their sheets wait as those of a queue do."""

from datetime import datetime

import msgspec

from logbook.records.settings import Setting
from logbook.snapshot.snapshot import Snapshot

KEY = "planned_tests"
#: The queue that the sheets wait in.
QUEUE = "test"


class ToLearn(msgspec.Struct, frozen=True, kw_only=True):
    """A setting that a test tells of: ``level`` instead of ``against``, known to ``width_stops`` (high less low) before it."""

    setting: str
    level: Setting
    against: Setting
    width_stops: float


class Planned(msgspec.Struct, frozen=True, kw_only=True):
    """A test, accepted ``at`` that time; ``jobs`` are what the prints made from its sheets have for a job."""

    at: datetime
    jobs: tuple[str, ...]
    to_learn: tuple[ToLearn, ...]


def planned(log: Snapshot) -> tuple[Planned, ...]:
    """The tests accepted last, the newest first."""
    return msgspec.convert(log.preference(KEY, []), tuple[Planned, ...])
