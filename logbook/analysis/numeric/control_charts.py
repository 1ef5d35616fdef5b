"""Control charts: the exponentially weighted moving average and the chart of proportions.

Both as in the NIST/SEMATECH e-Handbook of Statistical Methods, sections 6.3.2.4 and 6.3.3.2.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from logbook.analysis.numeric.arrays import ArrayLike, NDArray

__all__ = ["departures", "ewma", "ewma_limits", "proportion_limits"]

Floats = NDArray[np.float64]


def ewma(values: ArrayLike, start: float, weight: float = 0.2) -> Floats:
    """Exponentially weighted moving average of ``values``, same shape (n,) and unit.

    ``start`` is the average before the first value, the target of the chart; ``weight`` (0 < weight <= 1)
    is the newest value's share. E_t = weight * x_t + (1 - weight) * E_(t-1)
    (NIST/SEMATECH e-Handbook, 6.3.2.4). Raises ValueError for a weight out of range.

    >>> ewma([52.0, 47.0, 53.0], start=50.0, weight=0.3).round(2).tolist()
    [50.6, 49.52, 50.56]
    """
    _check_weight(weight)
    data = np.asarray(values, dtype=np.float64)
    averages = np.empty_like(data)
    last = start
    for index, value in enumerate(data):
        last = weight * float(value) + (1.0 - weight) * last
        averages[index] = last
    return averages


def ewma_limits(target: float, spread: float, weight: float = 0.2, width: float = 3.0) -> tuple[float, float]:
    """Lower and upper limit of an EWMA chart, in the unit of the values.

    ``spread`` (>= 0) is the standard deviation of single values, ``width`` the distance of the limits in
    standard deviations of the average, which tends to spread * sqrt(weight / (2 - weight))
    (NIST/SEMATECH e-Handbook, 6.3.2.4). Raises ValueError for a weight out of range.

    >>> [round(limit, 4) for limit in ewma_limits(50.0, 2.0539, weight=0.3)]
    [47.4116, 52.5884]
    """
    _check_weight(weight)
    reach = width * spread * math.sqrt(weight / (2.0 - weight))
    return target - reach, target + reach


def proportion_limits(average: float, sizes: ArrayLike, width: float = 3.0) -> tuple[Floats, Floats]:
    """Lower and upper limits of a chart of proportions, one pair for each sample, shapes (n,), as shares.

    ``average`` (0 to 1) is the proportion the process usually has, ``sizes`` (n,) how many were looked at in
    each sample (>= 1): average +- width * sqrt(average * (1 - average) / size), never below 0 nor above 1
    (NIST/SEMATECH e-Handbook, 6.3.3.2).

    >>> low, high = proportion_limits(0.2313, [50])
    >>> round(float(low[0]), 4), round(float(high[0]), 4)
    (0.0524, 0.4102)
    """
    counts = np.asarray(sizes, dtype=np.float64)
    reach = width * np.sqrt(average * (1.0 - average) / counts)
    return np.maximum(average - reach, 0.0), np.minimum(average + reach, 1.0)


def departures(values: Sequence[float] | Floats, low: ArrayLike, high: ArrayLike) -> list[int]:
    """Positions at which a charted series leaves its limits: outside, and not outside on the same side before.

    ``low`` and ``high`` are single limits or one for each value.

    >>> departures([1.0, 3.0, 3.5, 1.0, -2.0], low=-1.0, high=2.0)
    [1, 4]
    """
    data = np.asarray(values, dtype=np.float64)
    side = (data > np.asarray(high)).astype(int) - (data < np.asarray(low)).astype(int)
    before = np.concatenate([[0], side[:-1]]) if len(side) else side
    return [int(index) for index in np.flatnonzero((side != 0) & (side != before))]


def _check_weight(weight: float) -> None:
    if not 0.0 < weight <= 1.0:
        raise ValueError(f"the weight of a running average lies above 0 and at most at 1, not at {weight}")
