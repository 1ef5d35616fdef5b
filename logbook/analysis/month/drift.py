"""Drift: when the darkness of a paper, or the share of redo and scrap, leaves what the months before were like."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.rating import ROUNDING_STOPS
from logbook.analysis.numeric.arrays import ArrayLike, NDArray
from logbook.analysis.numeric.control_charts import departures, ewma, ewma_limits, proportion_limits

__all__ = ["MIN_HISTORY", "DarknessChart", "RejectsChart", "darkness_chart", "rejects_chart", "run_start"]

Floats = NDArray[np.float64]

WEIGHT = 0.2
#: Fewer prints than this say too little about the usual spread for limits to mean anything.
MIN_HISTORY = 8


@dataclass(frozen=True)
class DarknessChart:
    """EWMA of one paper's darkness, in stops. ``averages`` (n,) stand for the prints given, ``left`` are positions."""

    target: float
    spread: float
    low: float
    high: float
    history: int
    averages: Floats
    left: list[int]


@dataclass(frozen=True)
class RejectsChart:
    """Chart of the share of redo and scrap in each sample, shapes (n,); ``left`` are positions in it."""

    average: float
    history: int
    shares: Floats
    low: Floats
    high: Floats
    left: list[int]


def darkness_chart(history_stops: ArrayLike, month_stops: ArrayLike) -> DarknessChart | None:
    """Chart a month's darkness against the months before, both in time order; None where these are too few.

    Target and spread are the mean and the standard deviation of the months before; the average starts at the target
    (NIST/SEMATECH e-Handbook, 6.3.2.4; weight 0.2, limits at 3 standard deviations).

    >>> chart = darkness_chart([0.0, -1 / 3] * 10, [-1.0] * 3)
    >>> round(chart.target, 3), round(chart.low, 3), chart.left
    (-0.167, -0.338, [1])
    """
    history = np.asarray(history_stops, dtype=np.float64)
    if len(history) < MIN_HISTORY:
        return None
    target = float(np.mean(history))
    spread = max(float(np.std(history, ddof=1)), ROUNDING_STOPS)
    low, high = ewma_limits(target, spread, WEIGHT)
    averages = ewma(month_stops, target, WEIGHT)
    return DarknessChart(target, spread, low, high, len(history), averages, departures(averages, low, high))


def rejects_chart(history_rejects: int, history_prints: int, rejects: ArrayLike, prints: ArrayLike) -> RejectsChart | None:
    """Chart the redo and scrap of samples against the months before; None where these hold too few prints.

    ``rejects`` and ``prints`` (n,) count those of each sample; limits as in the NIST/SEMATECH e-Handbook, 6.3.3.2.
    Where the months before were all good, or all bad, half a print stands for the other kind: limits of no width
    would call the first exception a drift.

    >>> chart = rejects_chart(10, 100, [1, 9], [12, 12])
    >>> [round(float(high), 2) for high in chart.high], chart.left
    ([0.36, 0.36], [1])
    """
    if history_prints < MIN_HISTORY:
        return None
    counted = min(max(float(history_rejects), 0.5), history_prints - 0.5)
    average = counted / history_prints
    sizes = np.asarray(prints, dtype=np.float64)
    low, high = proportion_limits(average, sizes)
    shares = np.asarray(rejects, dtype=np.float64) / sizes
    return RejectsChart(average, history_prints, shares, low, high, departures(shares, low, high))


def run_start(values: ArrayLike, target: float, at: int) -> int:
    """Position where the run that ends at ``at`` began: the first value since the series last crossed its target.

    The usual estimate of when a change happened that a chart of averages shows later.

    >>> run_start([0.1, -0.1, -0.3, -0.6], target=0.0, at=3)
    1
    """
    data = np.asarray(values, dtype=np.float64) - target
    start = at
    while start > 0 and data[start - 1] * data[at] > 0:
        start -= 1
    return start
