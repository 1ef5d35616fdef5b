"""Estimates that can't be below 0, with intervals that stay honest at that boundary."""

from __future__ import annotations

import math

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval
from logbook.analysis.numeric.nonnegative import nonnegative_least_squares
from logbook.analysis.numeric.random_walk import Reduced

__all__ = ["bounded_estimate", "bounded_intervals", "free_covariance", "told_apart"]

Floats = NDArray[np.float64]

#: Weight, against the data's own, of sharing out equally what the data cannot tell apart.
EQUAL_SHARE = 1e-9
#: The ends are good to this share of their distance from the estimate.
CLOSE = 1e-7
TRIALS = 60
#: A rate whose share of the row space is nearer to 1 than this is told by itself.
TOLD = 1e-6


def bounded_estimate(data: Reduced) -> Floats:
    """The rates >= 0 (k,) that fit best; rates that the data cannot tell apart get equal shares, unseen ones 0."""
    lengths = np.sqrt(np.sum(data.triangle**2, axis=0))
    pull = np.diag(np.sqrt(EQUAL_SHARE) * lengths)
    return nonnegative_least_squares(np.vstack([data.triangle, pull]), np.concatenate([data.target, 0 * lengths]))


def free_covariance(data: Reduced) -> Floats:
    """Covariance (k, k) of the estimates without bounds (pseudo-inverse where the data can't tell them apart)."""
    inverse = np.linalg.pinv(data.triangle, rcond=1e-9)
    return np.asarray(inverse @ inverse.T)


def told_apart(data: Reduced) -> tuple[bool, ...]:
    """Whether the data tell each rate (k,) by itself, rather than only together with others.

    A rate is estimable where its unit vector lies in the row space of the design (Searle, Linear Models, 1971, sect. 5.4).

    >>> told_apart(Reduced(np.array([[1.0, 1.0, 0.0], [0.0, 0.0, 1.0], [0.0, 0.0, 0.0]]), np.zeros(3), 2))
    (False, False, True)
    """
    seen = np.diag(np.linalg.pinv(data.triangle, rcond=1e-9) @ data.triangle)
    return tuple(bool(one) for one in np.abs(seen - 1.0) < TOLD)


def bounded_intervals(data: Reduced, estimate: Floats, z: float = Z90) -> list[Interval]:
    """Central 90 % interval of each rate, all other rates fitted again >= 0 at each trial value.

    The interval holds the values whose best fit is worse by less than ``z``^2: the profile likelihood within the
    bounds (Self and Liang 1987, J. Am. Stat. Assoc. 82, 605-610). At the boundary it starts at 0 and keeps a width;
    a rate that the data do not touch has no upper end (infinity).

    >>> data = Reduced(np.eye(1), np.array([-1.0]), 1)
    >>> round(bounded_intervals(data, bounded_estimate(data))[0].high, 4)
    0.925
    """
    reach = z * np.sqrt(np.maximum(np.diag(free_covariance(data)), 0.0))
    return [_interval(data, estimate, index, float(reach[index]), z) for index in range(len(estimate))]


def _interval(data: Reduced, estimate: Floats, index: int, reach: float, z: float) -> Interval:
    value = float(estimate[index])
    if not np.any(data.triangle[:, index]):
        return Interval(value, 0.0, math.inf)
    if _stays_inside(data, estimate, index, reach):
        return Interval(value, value - reach, value + reach)
    least = _misfit(data, index, value)
    far = value + max(reach, 1e-9)
    while _beyond(data, index, far, least, z) < 0.0:
        far = value + 2 * (far - value)
    inside = _beyond(data, index, 0.0, least, z) <= 0.0
    low = 0.0 if inside else _crossing(data, index, (value, 0.0), least, z)
    return Interval(value, low, _crossing(data, index, (value, far), least, z))


def _stays_inside(data: Reduced, estimate: Floats, index: int, reach: float) -> bool:
    """Whether no bound is met anywhere along the interval, so that it is the ordinary one."""
    if np.any(estimate <= 0.0) or estimate[index] - reach < 0.0 or reach == 0.0:
        return False
    covariance = free_covariance(data)
    if np.linalg.matrix_rank(data.triangle, tol=1e-9 * float(np.max(np.abs(data.triangle)))) < len(estimate):
        return False
    slope = covariance[:, index] / covariance[index, index]
    return bool(np.all(estimate - np.abs(slope) * reach >= 0.0))


def _misfit(data: Reduced, index: int, value: float) -> float:
    """Least sum of squares with one rate held at ``value``."""
    others = np.delete(data.triangle, index, axis=1)
    target = data.target - data.triangle[:, index] * value
    left = target - others @ nonnegative_least_squares(others, target)
    return float(left @ left)


def _beyond(data: Reduced, index: int, value: float, least: float, z: float) -> float:
    """How far ``value`` lies beyond the end of the interval, in standard deviations; nearly a straight line in it."""
    return math.sqrt(max(_misfit(data, index, value) - least, 0.0)) - z


def _crossing(data: Reduced, index: int, bracket: tuple[float, float], least: float, z: float) -> float:
    """The end of the interval between a point inside and one outside (false position, Illinois variant)."""
    (inside, outside), (at_inside, at_outside) = bracket, (-z, _beyond(data, index, bracket[1], least, z))
    for _ in range(TRIALS):
        middle = inside - at_inside * (outside - inside) / (at_outside - at_inside)
        at_middle = _beyond(data, index, middle, least, z)
        if abs(at_middle) < CLOSE * z:
            return float(middle)
        if at_middle < 0.0:
            inside, at_inside, at_outside = middle, at_middle, at_outside / 2
        else:
            outside, at_outside, at_inside = middle, at_middle, at_inside / 2
    return float(middle)
