"""Estimates that can't be below 0."""

from __future__ import annotations

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.nonnegative import nonnegative_least_squares
from logbook.analysis.numeric.random_walk import Reduced

__all__ = ["bounded_estimate", "free_covariance"]

Floats = NDArray[np.float64]

#: Weight, against the data's own, of sharing out equally what the data cannot tell apart.
EQUAL_SHARE = 1e-9


def bounded_estimate(data: Reduced) -> Floats:
    """The rates >= 0 (k,) that fit best; rates that the data cannot tell apart get equal shares, unseen ones 0."""
    lengths = np.sqrt(np.sum(data.triangle**2, axis=0))
    pull = np.diag(np.sqrt(EQUAL_SHARE) * lengths)
    return nonnegative_least_squares(np.vstack([data.triangle, pull]), np.concatenate([data.target, 0 * lengths]))


def free_covariance(data: Reduced) -> Floats:
    """Covariance (k, k) of the estimates without bounds (pseudo-inverse where the data can't tell them apart)."""
    inverse = np.linalg.pinv(data.triangle, rcond=1e-9)
    return np.asarray(inverse @ inverse.T)
