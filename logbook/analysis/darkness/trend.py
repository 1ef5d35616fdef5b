"""Darkness over time: an average for every week, or for every month of a long log."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.rating import ROUNDING_STOPS, STEP_STOPS
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval, from_normal
from logbook.analysis.numeric.student import student_quantile

FloatArray = NDArray[np.float64]
Days = NDArray[np.datetime64]

#: A log longer than this is averaged by month, else by week.
WEEKS_UP_TO_DAYS = 280


@dataclass(frozen=True)
class TrendPoint:
    """One week or month: the mean of its days (days since 1970), its average darkness in stops, its prints."""

    day: float
    darkness: Interval
    prints: int


def trend(day: Days, stops: FloatArray) -> list[TrendPoint]:
    """Averages in time order; ``day`` (prints,) is the written date, ``stops`` (prints,) the darkness.

    >>> days = np.array(["2026-01-05", "2026-01-06", "2026-01-20"], dtype="datetime64[D]")
    >>> [(point.prints, round(point.darkness.value, 2)) for point in trend(days, np.array([0, -1 / 3, 1 / 3]))]
    [(2, -0.17), (1, 0.33)]
    """
    if not len(day):
        return []
    numbers = day.astype("datetime64[D]").astype(np.int64)
    if numbers.max() - numbers.min() > WEEKS_UP_TO_DAYS:
        part = day.astype("datetime64[M]").astype(np.int64)
    else:
        part = (numbers + 3) // 7  # 1970-01-01 was a Thursday: weeks begin on Monday
    return [_point(numbers[part == one], stops[part == one]) for one in np.unique(part)]


def _point(days: NDArray[np.int64], stops: FloatArray) -> TrendPoint:
    count = len(stops)
    spread = max(float(stops.std(ddof=1)), ROUNDING_STOPS) if count > 1 else STEP_STOPS
    z = student_quantile(count - 1) if count > 1 else student_quantile(1)
    return TrendPoint(float(days.mean()), from_normal(float(stops.mean()), spread / np.sqrt(count), z), count)
