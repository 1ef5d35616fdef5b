"""What a kept print costs: one attempt, times the attempts a keeper takes."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.proportion import wilson

__all__ = ["cost_of_keeper"]


def cost_of_keeper(cost_per_print: float, keepers: int, prints: int) -> Interval | None:
    """Cost of a keeper in money, where ``keepers`` of ``prints`` like it were kept; None where none was.

    The interval is that of the keeper rate (Wilson), turned over: the fewer are kept, the dearer each is.

    >>> cost = cost_of_keeper(6.0, 30, 60)
    >>> round(cost.value, 2), round(cost.low, 2), round(cost.high, 2)
    (12.0, 9.94, 15.15)
    """
    if not keepers:
        return None
    rate = wilson(keepers, prints)
    return Interval(cost_per_print / rate.value, cost_per_print / rate.high, cost_per_print / rate.low)
