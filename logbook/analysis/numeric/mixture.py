"""Errors whose standard deviation is itself not known for sure: a mixture of normal errors."""

from __future__ import annotations

import math

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90

__all__ = ["mixture_reach"]

Floats = NDArray[np.float64]

#: Halvings of the bracket: the end is good to a thousand millionth of it.
HALVINGS = 30


def mixture_reach(sd: Floats, weights: Floats, z: float = Z90) -> float:
    """Half the width of the interval that holds the central share of errors, as ``z`` does of one standard normal.

    The errors are normal with mean 0 and standard deviation ``sd`` (n,) >= 0, each with its weight (n,); the weights
    add up to 1. The share of a mixture is the mean of its parts' shares (Gelman et al., Bayesian Data Analysis, 3rd
    ed. 2013, sect. 3.1: averaging over a nuisance parameter).

    >>> round(mixture_reach(np.array([2.0, 2.0]), np.array([0.3, 0.7])), 4)
    3.2897
    """
    share = math.erf(z / math.sqrt(2.0))
    near, far = z * float(np.min(sd)), z * float(np.max(sd))
    for _ in range(HALVINGS):
        middle = (near + far) / 2
        if _held(middle, sd, weights) < share:
            near = middle
        else:
            far = middle
    return (near + far) / 2


def _held(reach: float, sd: Floats, weights: Floats) -> float:
    """Share of the errors within ``reach`` of 0."""
    within = [math.erf(reach / (float(one) * math.sqrt(2.0))) if one > 0.0 else 1.0 for one in sd]
    return float(weights @ np.array(within))
