"""Regression on running totals read off a coarse scale: rounding is independent, what varies in between accumulates."""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.records import long_work

__all__ = [
    "Reduced",
    "Run",
    "Whitened",
    "accumulated",
    "own_spread",
    "reduced",
    "relative_spread",
    "restricted_deviance",
    "rounded_difference",
    "rounding_covariance",
    "whitened",
]

Floats = NDArray[np.float64]

#: A sharper search would not move an interval by a hundredth of its width.
SEARCH_STEPS = 14
#: How far one series' spread may well lie from the usual one, as a standard deviation of its logarithm.
PULL = 0.4
#: Harmonics of the rounding error that readings share; the rest is 7 % of its variance.
HARMONICS = 8


@dataclass(frozen=True)
class Run:
    """One unbroken series of ``n`` totals: its design (n, k), totals (n,), and two error covariances (n, n).

    ``known`` is the covariance of what is known beforehand (rounding), in squared units of the totals; ``walk`` that
    of the accumulated variation, up to the one unknown factor that all runs share.
    """

    design: Floats
    observed: Floats
    known: Floats
    walk: Floats


@dataclass(frozen=True)
class Whitened:
    """Runs stacked and turned so that every row's error is independent, with variance 1 + factor * ``growth``."""

    design: Floats
    observed: Floats
    growth: Floats


@dataclass(frozen=True)
class Reduced:
    """The k rows (k, k) and k right-hand sides (k,) that hold all the data say about the rates, errors of variance 1.

    ``rows`` counts the observations behind them.
    """

    triangle: Floats
    target: Floats
    rows: int


def accumulated(variance: Floats) -> Floats:
    """Covariance (n, n) of a random walk whose variance has grown to ``variance`` (n,) at each reading.

    >>> accumulated(np.array([1.0, 3.0])).tolist()
    [[1.0, 1.0], [1.0, 3.0]]
    """
    return np.minimum.outer(variance, variance)


def rounding_covariance(drawn: Floats, unsure: Floats, step: float) -> Floats:
    """Covariance (n, n) of the rounding errors of readings on a scale with ``step``, all in one unit.

    ``drawn`` (n,) is the total expected at each reading, ``unsure`` (n, n) the variance of the difference between
    two of these expectations and what was drawn. Of one reading it is step^2 / 12. Readings a part of a step apart
    share their error, a sawtooth of uniform phase: harmonic h contributes step^2 / (2 pi^2 h^2) * cos(2 pi h d / step),
    damped by exp(-2 pi^2 h^2 unsure / step^2) (Sripad and Snyder 1977, IEEE Trans. ASSP 25, 442-448; Widrow and
    Kollar, Quantization Noise, 2008). What the harmonics left out would add counts as each reading's own.

    >>> np.diag(rounding_covariance(np.array([0.0, 1.5]), np.array([[0.0, 9.0], [9.0, 0.0]]), 1.0) * 12).round(6).tolist()
    [1.0, 1.0]
    >>> (rounding_covariance(np.array([0.0, 0.5]), np.zeros((2, 2)), 1.0) * 12).round(1).tolist()
    [[1.0, -0.5], [-0.5, 1.0]]
    """
    covariance = _shared(np.subtract.outer(drawn, drawn), unsure, step)
    np.fill_diagonal(covariance, step**2 / 12)
    return covariance


def rounded_difference(drawn: Floats, unsure: Floats, step: float) -> Floats:
    """Variance (n,) that rounding gives to the difference of two readings between which ``drawn`` (n,) is expected.

    ``unsure`` (n,) is the variance of what was drawn. Far apart it is step^2 / 6; of two readings a part f of a step
    apart, which differ by one step or none, it is step^2 * f * (1 - f).

    >>> (rounded_difference(np.array([0.5, 7.3]), np.array([0.0, 9.0]), 1.0)).round(2).tolist()
    [0.25, 0.17]
    """
    return np.asarray(step**2 / 6 - 2 * _shared(drawn, unsure, step))


def _shared(apart: Floats, unsure: Floats, step: float) -> Floats:
    turn, damping = 2 * math.pi / step * apart, -2 * math.pi**2 / step**2 * unsure
    # Sum of cos(h turn) exp(h^2 damping) / h^2; each from the one before, for cosines and powers are dear.
    cosine, fade = np.cos(turn), np.exp(damping)
    before, now, faded, fading = np.ones_like(cosine), cosine, fade, fade**3
    harmonics = now * faded
    for h in range(2, 1 + HARMONICS):
        before, now = now, 2 * cosine * now - before
        faded, fading = faded * fading, fading * fade * fade
        harmonics = harmonics + now * faded / (h * h)
    return np.asarray(step**2 / (2 * math.pi**2) * harmonics)


def whitened(runs: Sequence[Run]) -> Whitened:
    """All runs with their known errors made independent and of unit variance.

    Known and walking covariance are made diagonal together, once, so that every trial of the unknown factor costs
    no more than a weighting (as in mixed models: Patterson and Thompson 1971; Golub and Van Loan, sect. 8.7).
    Raises ``numpy.linalg.LinAlgError`` where a known covariance is not positive definite.
    """
    designs, totals, growths = [], [], []
    for run in runs:
        long_work.step()
        root = np.linalg.cholesky(run.known)
        half = np.linalg.solve(root, run.walk)
        growth, turn = np.linalg.eigh(np.linalg.solve(root, half.T))
        designs.append(turn.T @ np.linalg.solve(root, run.design))
        totals.append(turn.T @ np.linalg.solve(root, run.observed))
        growths.append(np.maximum(growth, 0.0))
    return Whitened(np.vstack(designs), np.concatenate(totals), np.concatenate(growths))


def reduced(data: Whitened, factor: float) -> Reduced:
    """What the data say about the rates when the walk has this factor (generalised least squares)."""
    weight = 1.0 / np.sqrt(1.0 + factor * data.growth)
    both = np.column_stack([data.design, data.observed]) * weight[:, None]
    triangle = np.linalg.qr(both, mode="r")
    columns = data.design.shape[1]
    full = np.zeros((columns + 1, columns + 1))
    full[: len(triangle)] = triangle[: columns + 1]
    return Reduced(full[:columns, :columns], full[:columns, columns], len(data.observed))


def relative_spread(data: Sequence[tuple[Whitened, float]], low: float, high: float) -> float:
    """The relative spread, the same for every series, of greatest restricted likelihood, from ``low`` to ``high``.

    Each of ``data`` is a series with its scale: its walk's factor is (spread * scale)^2. Restricted likelihood does not
    lose the degrees of freedom that the rates took (Patterson and Thompson 1971, Biometrika 58, 545-554).
    """

    def deviance(spread: float) -> float:
        return sum(restricted_deviance(series, (spread * scale) ** 2) for series, scale in data)

    return _least(deviance, low, high)


def own_spread(data: Whitened, scale: float, usual: float, low: float, high: float) -> float:
    """One series' relative spread, pulled to the ``usual`` one: its logarithm has the prior N(log usual, PULL^2)."""

    def deviance(spread: float) -> float:
        return restricted_deviance(data, (spread * scale) ** 2) + (math.log(spread / usual) / PULL) ** 2

    return _least(deviance, low, high)


def _least(deviance: Callable[[float], float], low: float, high: float) -> float:
    """Where ``deviance`` is least, by golden section on a logarithmic scale; the low end is tried as well."""
    a, b = math.log(low), math.log(high)
    golden = (math.sqrt(5.0) - 1.0) / 2.0
    c, d = b - golden * (b - a), a + golden * (b - a)
    at_c, at_d = deviance(math.exp(c)), deviance(math.exp(d))
    for _ in range(SEARCH_STEPS):
        if at_c < at_d:
            b, d, at_d = d, c, at_c
            c = b - golden * (b - a)
            at_c = deviance(math.exp(c))
        else:
            a, c, at_c = c, d, at_d
            d = a + golden * (b - a)
            at_d = deviance(math.exp(d))
    return min(low, math.exp((a + b) / 2), key=deviance)


def restricted_deviance(data: Whitened, factor: float) -> float:
    """-2 log restricted likelihood, up to a constant; directions that the data don't touch are left out."""
    variance = 1.0 + factor * data.growth
    x = data.design / np.sqrt(variance)[:, None]
    y = data.observed / np.sqrt(variance)
    left, lengths, _ = np.linalg.svd(x, full_matrices=False)
    kept = lengths > 1e-9 * np.max(lengths, initial=0.0)
    along = left[:, kept].T @ y
    return float(np.sum(np.log(variance)) + 2 * np.sum(np.log(lengths[kept])) + y @ y - along @ along)
