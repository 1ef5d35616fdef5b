"""The coefficients of a pooled regression that suit its rows best while its spreads and its scale stay as they are."""

from __future__ import annotations

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.crossed import NormalEquations
from logbook.analysis.numeric.grouped import Derivatives, derivatives
from logbook.analysis.numeric.pooled import Pooled, Prior

FloatArray = NDArray[np.float64]

#: Steps of the coefficients with the same equations, unless one moves them by less than this many scales.
_CHORDS, _LITTLE = 4, 0.01


def mode(
    pooled: Pooled, prior: Prior, theta: FloatArray, s: float, at: Derivatives, normal: NormalEquations
) -> tuple[FloatArray, Derivatives]:
    """The coefficients that suit best, or nearly, at log scale ``s``, and the derivatives there; ``at`` are those at ``theta``.

    Newton's steps with the equations of the first one (a chord method: Ortega & Rheinboldt, Iterative Solution of Nonlinear
    Equations, 1970, sect. 7.1): making these is nearly all the work, and the weights hardly change.
    """
    for _ in range(_CHORDS):
        uphill = pooled.design.total(at.by_eta) - prior.precision * (theta - prior.centre)
        move = normal.solve(uphill[:, None])[:, 0]
        theta, at = _climbed(pooled, prior, theta, s, at, move)
        if float(np.sqrt(np.mean(move**2))) < _LITTLE * np.exp(s):
            break
    return theta, at


def _climbed(
    pooled: Pooled, prior: Prior, theta: FloatArray, s: float, at: Derivatives, move: FloatArray
) -> tuple[FloatArray, Derivatives]:
    """One step of the coefficients; halved where it overshoots (the problem is concave)."""
    value = float(at.loglik.sum()) + prior.log_density(theta)
    for halving in range(30):
        there = theta + 0.5**halving * move
        found = derivatives(pooled.design.predict(there), s, pooled.bounds.low, pooled.bounds.high)
        if float(found.loglik.sum()) + prior.log_density(there) >= value - 1e-9:
            return there, found
    return theta, at
