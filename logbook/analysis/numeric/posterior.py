"""The posterior of a pooled regression, averaged over what the spreads of its groups may be.

(Kass & Steffey 1989, J. Am. Stat. Assoc. 84, 717-726.) Before the data a spread is as likely to be of any size (Gelman 2006,
Bayesian Anal. 1, 515-534): a few levels say little of theirs, and a prior that believes in small ones makes intervals that
hold too seldom.
"""

from __future__ import annotations

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.crossed import NormalEquations
from logbook.analysis.numeric.grouped import derivatives, expected_weight
from logbook.analysis.numeric.mode import mode
from logbook.analysis.numeric.pooled import Fit, Pooled
from logbook.analysis.numeric.spreads import TriedSpreads, tried_spreads

FloatArray = NDArray[np.float64]


def posterior(pooled: Pooled, theta: FloatArray, s: float, spreads: FloatArray, known: FloatArray, steps: int) -> Fit:
    """What is known at the fitted ``theta`` (width,), log scale ``s`` and ``spreads``, averaged over the spreads.

    Only groups of the few columns are: the spread that many levels share is known well. The precision is that of what the
    rows were bound to tell, not of how they happened to fall: a single surprising row has next to no curvature of its own
    and would look as if it told nothing. Location and scale of a symmetric error are orthogonal: their covariance is 0.
    """
    design, bounds, few, prior = pooled.design, pooled.bounds, pooled.design.few.width, pooled.prior(spreads)
    eta = design.predict(theta)
    weight = expected_weight(eta, s, bounds.low, bounds.high)
    normal = NormalEquations(design, weight, prior.precision)
    theta, at = mode(pooled, prior, theta, s, derivatives(eta, s, bounds.low, bounds.high), normal)
    inverse = normal.inverse
    pull, doubt = np.zeros((design.width, 1)), np.zeros((few, few))
    believed = pooled.spread_prior.spread(s, design.rows)
    for group, spread in zip(pooled.groups, spreads, strict=False):
        block = np.ix_(group, group)
        tried = tried_spreads(theta[group], inverse[block], float(spread), believed, pooled.spread_prior)
        pull[group, 0], doubt[block] = _averaged(tried)
    return Fit(
        theta=theta + normal.solve(pull)[:, 0],
        s=s,
        spreads=spreads,
        known=known,
        normal=normal,
        doubt=doubt,
        covariance=inverse + inverse @ doubt @ inverse,
        s_variance=1 / (max(-float(at.by_s_s.sum()), 0.0) + pooled.scale_prior.sd**-2),
        loglik=float(at.loglik.sum()),
        steps=steps,
    )


def _averaged(tried: TriedSpreads) -> tuple[FloatArray, FloatArray]:
    """What averaging over one group's spread does: the pull on its members, and their doubt (see ``Fit``)."""
    log_weight = tried.log_weight + tried.logs  # the spreads tried lie even in their logs
    weight = np.exp(log_weight - log_weight.max())
    weight /= weight.sum()
    pull = weight @ tried.pulls
    off = tried.pulls - pull
    doubt = (off.T * weight) @ off - np.diag(weight @ (tried.tighter / tried.room))
    return tried.turn @ pull, tried.turn @ doubt @ tried.turn.T
