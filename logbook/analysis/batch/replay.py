"""The standing rule carried out, day by day, on prints that are known."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from logbook.analysis.batch.rule import Flow, StandingRule
from logbook.records.fields import BLACKS, Black, other_black

__all__ = ["Day", "changeovers_of_rule"]


class Day(NamedTuple):
    """Prints that have come by the morning of a bench day, since the one before."""

    matte: int
    photo: int


def changeovers_of_rule(rule: StandingRule, flow: Flow, loaded: Black, days: Iterable[Day]) -> int:
    """How often the rule exchanges the black over these days, starting with ``loaded`` and nothing waiting.

    >>> from logbook.analysis.batch.rule import standing_rule
    >>> flow = Flow(2, 1.5, (16, 16), (12, 12), 36, 35, 0.5)
    >>> changeovers_of_rule(standing_rule(flow), flow, "matte", [Day(2, 6), Day(0, 6), Day(0, 0)])
    1
    """
    waiting: dict[Black, int] = {"matte": 0, "photo": 0}
    count = 0
    for day in days:
        waiting["matte"] += day.matte
        waiting["photo"] += day.photo
        rooms = flow.room
        if rule.says_exchange(loaded, waiting["matte"], waiting["photo"]):
            loaded, count, rooms = other_black(loaded), count + 1, flow.room_after_exchange
        waiting[loaded] = max(0, waiting[loaded] - rooms[BLACKS.index(loaded)])
    return count
