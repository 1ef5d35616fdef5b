"""Draws from a normal distribution of many variables that can't be below 0."""

from __future__ import annotations

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

__all__ = ["truncated_normal"]

Floats = NDArray[np.float64]

#: A variable this many standard deviations above its bound never meets it.
FAR = 5.0
SWEEPS = 15
#: A direction that moves a variable by less than this does not meet its bound.
NEARLY_NONE = 1e-12


def truncated_normal(
    mean: Floats, covariance: Floats, bounded: NDArray[np.bool_], count: int, rng: np.random.Generator
) -> Floats:
    """``count`` draws (count, k) of N(``mean``, ``covariance``) given that the ``bounded`` (k,) variables are >= 0.

    Those that may meet their bound are drawn first, the others given them. Slice sampling (Neal 2003, Annals of
    Statistics 31, 705-767) along each axis and each principal axis in turn, on as many chains as there are draws.

    >>> rng = np.random.default_rng(1)
    >>> drawn = truncated_normal(np.zeros(1), np.eye(1), np.ones(1, dtype=bool), 20_000, rng)
    >>> round(float(np.mean(drawn)), 1)  # the root of 2 / pi is 0.798
    0.8
    """
    sd = np.sqrt(np.diag(covariance))
    near = bounded & (mean < FAR * sd)
    drawn = np.empty((count, len(mean)))
    own = covariance[np.ix_(near, near)]
    drawn[:, near] = _above_zero(mean[near], own, count, rng)
    across = np.linalg.solve(own, covariance[np.ix_(near, ~near)]) if np.any(near) else np.zeros((0, int(np.sum(~near))))
    rest = covariance[np.ix_(~near, ~near)] - covariance[np.ix_(~near, near)] @ across
    strength, axes = np.linalg.eigh(rest)
    noise = rng.standard_normal((count, len(strength))) * np.sqrt(np.maximum(strength, 0.0))
    drawn[:, ~near] = mean[~near] + (drawn[:, near] - mean[near]) @ across + noise @ axes.T
    return np.where(bounded, np.maximum(drawn, 0.0), drawn)


def _above_zero(mean: Floats, covariance: Floats, count: int, rng: np.random.Generator) -> Floats:
    if not len(mean):
        return np.zeros((count, 0))
    strength, axes = np.linalg.eigh(covariance)
    precision = (axes / strength) @ axes.T
    sd = np.sqrt(np.diag(covariance))
    at = np.abs(mean + sd * rng.standard_normal((count, len(mean)))) + 1e-6 * sd
    directions = np.vstack([axes.T[::-1], np.eye(len(mean))])
    for _ in range(SWEEPS):
        for direction in directions:
            _step(at, mean, precision, direction, rng)
    return at


def _step(at: Floats, mean: Floats, precision: Floats, direction: Floats, rng: np.random.Generator) -> None:
    """Move every chain along one direction, in place."""
    turned = precision @ direction
    sharp = float(direction @ turned)
    centre = -((at - mean) @ turned) / sharp
    reach = np.sqrt(centre**2 + 2.0 * rng.standard_exponential(len(at)) / sharp)
    up, down = direction > NEARLY_NONE, direction < -NEARLY_NONE
    low = np.max(-at[:, up] / direction[up], axis=1, initial=-np.inf)
    high = np.min(-at[:, down] / direction[down], axis=1, initial=np.inf)
    low, high = np.maximum(low, centre - reach), np.minimum(high, centre + reach)
    at += np.outer(low + (high - low) * rng.random(len(at)), direction)
    np.maximum(at, 0.0, out=at)
