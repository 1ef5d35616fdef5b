"""Partial pooling: groups of coefficients share a normal prior whose spread the data teach.

Empirical Bayes by EM on the Laplace posterior (Dempster, Laird & Rubin 1977, J. R. Stat. Soc. B 39,
1-38; Stiratelli, Laird & Ware 1984, Biometrics 40, 961-971), stepped by MacKay's fixed-point form of the
same equation (1992, Neural Comput. 4, 415-447). The scale of the errors is taken at the
maximum of the marginal likelihood as well, so that it does not shrink with every further column
(restricted likelihood: Patterson & Thompson 1971, Biometrika 58, 545-554). Finally the
posterior is averaged over what the spreads may be (Kass & Steffey 1989, J. Am. Stat. Assoc. 84, 717-726):
the coefficients with a prior that is flat in the log of a spread, which pulls rare levels to the average, and
their covariance with one that is flat in the spread itself (Gelman 2006, Bayesian Anal. 1, 515-534). A few levels
say little of their spread; the first prior then believes in small ones, and intervals made with it hold too seldom.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.design import Design
from logbook.analysis.numeric.grouped import Derivatives, derivatives, log_likelihood
from logbook.analysis.numeric.interval_regression import (
    Bounds,
    Fit,
    Prior,
    start_values,
    with_expected_covariance,
)

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

#: Spreads from exp(-3) times the fitted one are weighed, at this many points; upwards only as far as the quadratic
#: can be trusted: beyond, the likelihood flattens and the quadratic does not.
_LOG_REACH = (-3.0, 2.0)
_TRIED = 31
#: Few rows with many settings creep along a flat ridge: at the last step this much looser is settled enough.
_LAST_SLACK = 200.0


@dataclass(frozen=True)
class SpreadPrior:
    """What is believed of a spread before the data: as if ``levels`` levels had already shown one
    as small as the data could just see, ``standard_errors`` of the average of all rows.

    A scaled inverse chi-square on the squared spread. It keeps the estimate off zero, where
    intervals would claim certainty, by an amount that shrinks as prints gather (the reasoning of
    Chung et al. 2013, Psychometrika 78, 685-709). Groups of one or two members, which cannot teach a spread,
    are left nearly as the data have them; groups of many are hardly touched by it. Its other end falls off like a
    normal curve of sd ``widest`` (the unit of the bounds), so that rows at the open ends cannot carry it to infinity.
    """

    standard_errors: float = 5.0
    levels: float = 0.25
    widest: float = np.inf

    def spread(self, s: float, rows: float) -> float:
        """The spread believed in on so many ``rows``; ``s`` is the log of the scale of their logistic errors.

        >>> round(SpreadPrior(1.0).spread(0.0, 100.0), 4)
        0.1814
        """
        return float(self.standard_errors * np.exp(s) * np.pi / np.sqrt(3 * rows))


@dataclass(frozen=True)
class ScalePrior:
    """Normal prior of the log of the error's scale, and the least scale there can be (in the unit of the bounds).

    It matters where rows fall so that a smaller scale always fits as well: few rows, or hardly any that differ.
    """

    centre: float
    sd: float
    least: float = 1e-6


DEFAULT_SPREAD = SpreadPrior()


def fit_pooled(
    design: Design,
    bounds: Bounds,
    base: Prior,
    groups: Sequence[IntArray],
    scale_prior: ScalePrior,
    spread_prior: SpreadPrior = DEFAULT_SPREAD,
    most_steps: int = 200,
) -> Fit:
    """Posterior of all coefficients, each of ``groups`` (column numbers) sharing a learnt spread.

    ``base`` is the prior of the columns in no group. The fit's ``spreads`` are those of the
    groups, in the unit of the bounds. Raises ``ArithmeticError`` where it does not settle.

    >>> rows = Design(np.ones((4, 1)), np.array([[0], [0], [1], [1]]), (2,))
    >>> seen = Bounds(np.array([0.0, 1, 2, 3]), np.array([1.0, 2, 3, 4]), np.full(4, 25.0))
    >>> found = fit_pooled(rows, seen, Prior(np.zeros(3), np.zeros(3)), [np.array([1, 2])], ScalePrior(-1, 1))
    >>> round(float(found.theta[2] - found.theta[1]), 1)
    2.0
    """
    (theta, s), rows, turning = start_values(design, bounds, base), float(bounds.count.sum()), _Turning()
    spreads = np.array([spread_prior.spread(s, rows) for _ in groups])
    for step in range(1, most_steps + 1):
        prior = _with_spreads(base, groups, spreads)
        at = derivatives(design.predict(theta), s, bounds.low, bounds.high)
        bend = design.gram(bounds.count * at.weight) + np.diag(prior.precision)
        inverse: FloatArray = np.asarray(np.linalg.inv(bend), dtype=np.float64)
        there = _newton(design, bounds, prior, theta, s, at, inverse)
        turn = turning.held(_scale_step(design, bounds, at, inverse, s, scale_prior))
        s_there = max(s + turn, float(np.log(scale_prior.least)))
        spreads_there = _next_spreads(groups, there, np.diag(inverse), spreads, spread_prior, s, rows)
        settled = _settled(theta, there, s, s_there, spreads, spreads_there, 1.0 if step < most_steps else _LAST_SLACK)
        theta, s, spreads = there, s_there, spreads_there
        if settled:
            mode = Fit(theta, s, np.zeros((0, 0)), 0.0, spreads, step)
            known = with_expected_covariance(design, bounds, _with_spreads(base, groups, spreads), mode, scale_prior.sd**-2)
            return _widened(known, groups, spread_prior, rows)
    raise ArithmeticError("the spreads of the settings do not settle on these rows")


class _Turning:
    """Holds the steps of the log scale short, and shorter once they go to and fro across a steep valley."""

    def __init__(self) -> None:
        self._most, self._before = 0.5, 0.0

    def held(self, turn: float) -> float:
        """The step to take where this one is wanted."""
        held = float(np.clip(turn, -self._most, self._most))
        if held * self._before < 0:
            self._most /= 2
        self._before = held
        return held


def _with_spreads(base: Prior, groups: Sequence[IntArray], spreads: FloatArray) -> Prior:
    precision = base.precision.copy()
    for group, spread in zip(groups, spreads, strict=True):
        precision[group] = spread**-2
    return Prior(base.centre, precision)


def _newton(
    design: Design,
    bounds: Bounds,
    prior: Prior,
    theta: FloatArray,
    s: float,
    at: Derivatives,
    inverse: FloatArray,
) -> FloatArray:
    """One Newton step of the coefficients; halved where it overshoots (the problem is concave)."""
    pull = prior.precision * (theta - prior.centre)
    move = inverse @ (design.total(bounds.count * at.by_eta) - pull)
    value = float(at.loglik @ bounds.count) + prior.log_density(theta)
    for halving in range(30):
        there = theta + 0.5**halving * move
        rows = log_likelihood(design.predict(there), s, bounds.low, bounds.high)
        if float(rows @ bounds.count) + prior.log_density(there) >= value - 1e-9 * abs(value):
            return np.asarray(there, dtype=np.float64)
    return theta


def _scale_step(
    design: Design,
    bounds: Bounds,
    at: Derivatives,
    inverse: FloatArray,
    s: float,
    prior: ScalePrior,
) -> float:
    """Newton step of the log scale on the Laplace marginal likelihood."""
    known = float(np.sum(inverse * design.gram(bounds.count * at.weight_by_s)))
    slope = float(bounds.count @ at.by_s) - 0.5 * known - (s - prior.centre) / prior.sd**2
    cross = design.total(bounds.count * at.by_eta_s)
    bend = -float(bounds.count @ at.by_s_s) - float(cross @ inverse @ cross) + prior.sd**-2
    return slope / max(bend, 0.5 * abs(slope), 1e-9)


def _next_spreads(
    groups: Sequence[IntArray],
    theta: FloatArray,
    variances: FloatArray,
    spreads: FloatArray,
    prior: SpreadPrior,
    s: float,
    rows: float,
) -> FloatArray:
    return np.array(
        [
            _spread(theta[group], variances[group], spread, prior.spread(s, rows), prior)
            for group, spread in zip(groups, spreads, strict=True)
        ]
    )


def _spread(members: FloatArray, variances: FloatArray, spread: float, believed: float, prior: SpreadPrior) -> float:
    """Next spread of a group: mean square of its members, each counted as far as it is known.

    Solves square / t - weight - t / widest^2 = 0 for the squared spread t.
    """
    square = float(members @ members) + prior.levels * believed**2
    weight = _known(variances, spread) + prior.levels
    held = 4 * square / (weight * prior.widest) ** 2
    return float(np.sqrt(2 * square / (weight * (1 + np.sqrt(1 + held)))))


def _known(variances: FloatArray, spread: float) -> float:
    """How many of the group's members the data determine (the rest is the prior's)."""
    return float(max(len(variances) - variances.sum() / spread**2, 0.0))


def _settled(
    theta: FloatArray,
    there: FloatArray,
    s: float,
    s_there: float,
    spreads: FloatArray,
    spreads_there: FloatArray,
    slack: float,
) -> bool:
    moved = float(np.abs(there - theta).max()) / np.exp(s)
    turned = float(np.abs(np.log(spreads_there / spreads)).max(initial=0.0))
    return moved < 1e-4 * slack and abs(s_there - s) < 1e-4 * slack and turned < 1e-3 * slack


def _widened(state: Fit, groups: Sequence[IntArray], prior: SpreadPrior, rows: float) -> Fit:
    """The posterior averaged over what each group's spread may be.

    The fit holds at one spread; around it the log-likelihood is taken as quadratic, so that the
    posterior at any other spread follows in closed form, with its weight. Mean and covariance
    of that mixture replace those at the mode.
    """
    theta, covariance = state.theta.copy(), state.covariance.copy()
    for group, spread in zip(groups, state.spreads, strict=True):
        believed = prior.spread(state.s, rows)
        shift, added = _over_spreads(state, group, float(spread), believed, prior)
        theta += shift
        covariance += added
    return replace(state, theta=theta, covariance=covariance)


def _over_spreads(
    state: Fit, group: IntArray, spread: float, believed: float, prior: SpreadPrior
) -> tuple[FloatArray, FloatArray]:
    """What averaging over one group's spread adds to the coefficients and to the covariance."""
    variances, turn = np.linalg.eigh(state.covariance[np.ix_(group, group)])
    members = turn.T @ state.theta[group]
    reach = state.covariance[:, group] @ turn
    tried = spread * np.exp(np.linspace(*_LOG_REACH, _TRIED))[:, None]
    tighter = tried**-2 - spread**-2
    room = 1 + tighter * np.minimum(variances, spread**2)  # no posterior is wider than its prior
    log_weight = (
        -np.log(tried / spread) * len(members)
        - 0.5 * np.log(room).sum(axis=1, keepdims=True)
        - 0.5 * (tighter * members**2 / room).sum(axis=1, keepdims=True)
        - prior.levels * (np.log(tried) + believed**2 / (2 * tried**2))
        - 0.5 * (tried / prior.widest) ** 2
    )
    shifts = -(tighter / room * members) @ reach.T
    flat = _weights(log_weight + np.log(tried))
    off = shifts - flat @ shifts
    added = (off.T * flat) @ off - (reach * (flat @ (tighter / room))) @ reach.T
    return (_weights(log_weight) @ shifts)[:-1], added


def _weights(log_weight: FloatArray) -> FloatArray:
    """Shares that sum to 1, from the logs of weights (points, 1)."""
    weight = np.exp(log_weight[:, 0] - log_weight.max())
    return np.asarray(weight / weight.sum(), dtype=np.float64)
