"""Counts that come at a steady rate."""

from __future__ import annotations

import math

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval

__all__ = ["chances", "rate"]

# Counts rarer than this are left out; what is left is scaled to a sum of one.
RAREST = 1e-15


def chances(mean: float) -> NDArray[np.float64]:
    """Chances of 0, 1, 2 … for a Poisson number of this mean (0 up to some hundreds), summing to 1.

    >>> chances(2.0)[:3].round(4).tolist(), chances(0.0).tolist()
    ([0.1353, 0.2707, 0.2707], [1.0])
    """
    if mean == 0:
        return np.ones(1)
    most = math.ceil(mean + 10 * math.sqrt(mean) + 20)
    logs = np.array([count * math.log(mean) - mean - math.lgamma(count + 1) for count in range(most + 1)])
    chance = np.exp(logs)
    chance = chance[: int(np.nonzero(chance > RAREST)[0][-1]) + 1]
    result: NDArray[np.float64] = chance / chance.sum()
    return result


def rate(count: int, exposure: float) -> Interval:
    """Events per unit of ``exposure`` (over 0) after ``count`` of them, with the central 90 %.

    Byar's approximation of the exact Poisson limits: Rothman, K. J. and Boice, J. D. (1979), Epidemiologic Analysis
    with a Programmable Calculator, NIH 79-1649; also in Breslow, N. E. and Day, N. E. (1987), IARC 82, p. 69.

    >>> seen = rate(40, 20)
    >>> round(seen.value, 3), round(seen.low, 3), round(seen.high, 3)
    (2.0, 1.51, 2.603)
    """
    low = 0.0 if count == 0 else count * (1 - 1 / (9 * count) - Z90 / (3 * math.sqrt(count))) ** 3
    above = count + 1
    high = above * (1 - 1 / (9 * above) + Z90 / (3 * math.sqrt(above))) ** 3
    return Interval(count / exposure, low / exposure, high / exposure)
