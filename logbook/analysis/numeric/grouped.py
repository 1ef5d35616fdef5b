"""Likelihood of a value that is only known to lie between two bounds, with logistic errors."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

FloatArray = NDArray[np.float64]

#: Beyond this many scales the logistic curve is flat in double precision.
_FAR = 700.0
#: Outcomes within this many scales are weighed; beyond lie fewer than one in a hundred thousand.
_SEEN_SCALES = 12.0
#: With finer steps than this an outcome is as good as exact.
_MOST_STEPS = 400


@dataclass(frozen=True)
class Derivatives:
    """Log-likelihood of each row and its derivatives, all (rows,).

    ``eta`` is the linear predictor, ``s`` the log of the scale.
    """

    loglik: FloatArray
    by_eta: FloatArray
    weight: FloatArray  # minus the second derivative by eta; never negative
    by_s: FloatArray
    by_eta_s: FloatArray
    by_s_s: FloatArray
    weight_by_s: FloatArray


def logistic(x: FloatArray) -> FloatArray:
    """The logistic distribution function, safe for any finite or infinite ``x``.

    >>> logistic(np.array([-np.inf, 0.0, np.inf])).tolist()
    [0.0, 0.5, 1.0]
    """
    return np.asarray(0.5 * (1.0 + np.tanh(0.5 * x)), dtype=np.float64)


def log_likelihood(eta: FloatArray, s: float, low: FloatArray, high: FloatArray) -> FloatArray:
    """Log of P(low < eta + exp(s)·e <= high), e logistic, for every row.

    For the logistic curve F the chance between l and u is F(u)·F(-l)·(1 - exp(l - u)), which
    loses no digits in the tails. Bounds may be infinite; units of eta and bounds are the same.

    >>> bounds = np.array([-np.inf]), np.array([0.0])
    >>> round(float(log_likelihood(np.array([0.0]), 0.0, *bounds)[0]), 4)
    -0.6931
    """
    upper, lower, gap = _scaled(eta, s, low, high)
    parts = np.log(-np.expm1(-gap)) - np.logaddexp(0, -upper) - np.logaddexp(0, lower)
    return np.asarray(parts, dtype=np.float64)


def derivatives(eta: FloatArray, s: float, low: FloatArray, high: FloatArray) -> Derivatives:
    """Log-likelihood with its first and second derivatives by eta and by the log of the scale.

    Grouped-data regression (Stewart 1983, Rev. Econ. Stud. 50, 737-753) with logistic errors.

    >>> at = derivatives(np.array([0.0]), 0.0, np.array([-1.0]), np.array([1.0]))
    >>> float(at.by_eta[0])
    0.0
    """
    upper, lower, gap = _scaled(eta, s, low, high)
    up, lo = logistic(upper), logistic(lower)
    up_slope, lo_slope = up * (1 - up), lo * (1 - lo)
    scale = np.exp(s)
    by_eta = (up + lo - 1) / scale
    weight = (up_slope + lo_slope) / scale**2
    odds = gap / np.expm1(gap)
    up_part, lo_part = upper * (1 - up), lower * lo
    bend = upper * up_slope * (1 - 2 * up) + lower * lo_slope * (1 - 2 * lo)
    return Derivatives(
        loglik=np.log(-np.expm1(-gap)) - np.logaddexp(0, -upper) - np.logaddexp(0, lower),
        by_eta=by_eta,
        weight=weight,
        by_s=lo_part - up_part - odds,
        by_eta_s=-by_eta - (upper * up_slope + lower * lo_slope) / scale,
        by_s_s=_curvature_of_gap(gap, odds) + up_part - lo_part - upper**2 * up_slope - lower**2 * lo_slope,
        weight_by_s=-2 * weight - bend / scale**2,
    )


def expected_weight(eta: FloatArray, s: float, low: FloatArray, high: FloatArray) -> FloatArray:
    """Mean over all outcomes of the weight in ``derivatives``: what a row was bound to tell (Fisher information).

    The outcomes are steps as wide as the row's own, from its bounds on in both directions; an open-ended row
    keeps its own weight. Unlike the weight at the outcome it does not vanish where that was a surprise.

    >>> edges = np.array([-0.01]), np.array([0.01])
    >>> round(float(expected_weight(np.array([0.0]), 0.0, *edges)[0]), 3)  # almost exact: 1 / (3 scale^2)
    0.333
    """
    out = derivatives(eta, s, low, high).weight
    closed = np.isfinite(low) & np.isfinite(high)
    if not closed.any():
        return out
    scale = float(np.exp(s))
    step = np.maximum(high[closed] - low[closed], _SEEN_SCALES * scale / _MOST_STEPS)
    reach = int(np.ceil(_SEEN_SCALES * scale / float(step.min()))) + 1
    start = low[closed] + np.rint((eta[closed] - low[closed]) / step) * step
    told = np.zeros(int(closed.sum()))
    below = logistic((start - reach * step - eta[closed]) / scale)
    for place in range(1 - reach, reach + 1):
        here = logistic((start + place * step - eta[closed]) / scale)
        told += (here - below) * (here * (1 - here) + below * (1 - below))
        below = here
    out[closed] = np.maximum(told / scale**2, 0.0)
    return out


def _scaled(eta: FloatArray, s: float, low: FloatArray, high: FloatArray) -> tuple[FloatArray, FloatArray, FloatArray]:
    scale = np.exp(s)
    upper = np.clip((high - eta) / scale, -_FAR, _FAR)
    lower = np.clip((low - eta) / scale, -_FAR, _FAR)
    return upper, lower, np.clip((high - low) / scale, 1e-300, _FAR)


def _curvature_of_gap(gap: FloatArray, odds: FloatArray) -> FloatArray:
    """gap times the derivative of gap / (exp(gap) - 1)."""
    return np.asarray(odds - odds * (odds + gap), dtype=np.float64)
