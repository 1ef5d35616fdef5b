"""Partial pooling: groups of coefficients share a normal prior whose spread the data teach.

Empirical Bayes by EM on the Laplace posterior (Dempster, Laird & Rubin 1977, J. R. Stat. Soc. B 39,
1-38; Stiratelli, Laird & Ware 1984, Biometrics 40, 961-971), stepped by MacKay's fixed-point form of the
same equation (1992, Neural Comput. 4, 415-447). The scale of the errors is taken at the
maximum of the marginal likelihood as well, so that it does not shrink with every further column
(restricted likelihood: Patterson & Thompson 1971, Biometrika 58, 545-554).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.crossed import Crossed, NormalEquations
from logbook.analysis.numeric.grouped import Derivatives, derivatives
from logbook.analysis.numeric.mode import mode
from logbook.analysis.numeric.pooled import Fit, Pooled, ScalePrior, SpreadPrior
from logbook.analysis.numeric.posterior import posterior
from logbook.analysis.numeric.spreads import tried_spreads

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

#: Few rows with many settings creep along a flat ridge: at the last step this much looser is settled enough.
_LAST_SLACK = 10.0
#: Random signs that the variances of many levels are summed with.
_SIGNS = 24
#: More rows than this are first fitted in part, for a start.
_MANY_ROWS = 1500


@dataclass(frozen=True)
class _State:
    """Where the search stands; ``known`` is how many levels of each group the rows determine."""

    theta: FloatArray
    s: float
    spreads: FloatArray
    known: FloatArray


def fit_pooled(pooled: Pooled, most_steps: int = 200) -> Fit:
    """Posterior of all coefficients; ``ArithmeticError`` where it does not settle.

    >>> from logbook.analysis.numeric.design import Design
    >>> from logbook.analysis.numeric.pooled import Bounds, Prior
    >>> rows = Crossed(Design(np.ones((100, 1)), np.repeat([[0], [1]], 50, axis=0), (2,)))
    >>> seen = np.tile([0.0, 1.0], 50) + np.repeat([0.0, 2.0], 50)
    >>> asked = Pooled(rows, Bounds(seen, seen + 1), Prior(np.zeros(3), np.zeros(3)), [np.array([1, 2])], ScalePrior(-1, 1))
    >>> found = fit_pooled(asked)
    >>> round(float(found.theta[2] - found.theta[1]), 1)
    2.0
    """
    state, pace = _start(pooled), _Pace(most=1.2)
    for step in range(1, most_steps + 1):
        there = _next(pooled, state, pace)
        settled = _settled(state, there, 1.0 if step < most_steps else _LAST_SLACK)
        state = there
        if settled:
            return posterior(pooled, state.theta, state.s, state.spreads, state.known, step)
    raise ArithmeticError("the spreads of the settings do not settle on these rows")


def _start(pooled: Pooled) -> _State:
    """Where the search begins; of many rows, where it ended on some of them."""
    design, groups = pooled.design, pooled.all_groups
    theta = pooled.prior(np.ones(len(groups))).centre
    middle = pooled.bounds.middles
    theta[0] += middle.mean()  # the first covariate is the constant
    spread = 0.5 * max(float(middle.std()), 1e-3)
    s = float(np.log(spread * np.sqrt(3) / np.pi))
    spreads = np.full(len(groups), spread)
    if design.rows > _MANY_ROWS:
        found = fit_pooled(pooled.thinned())
        s, theta[: design.few.width] = found.s, found.theta[: design.few.width]
        spreads[: len(pooled.groups)] = found.spreads[: len(pooled.groups)]
        spreads[len(pooled.groups) :] = found.scale
        if design.eliminated_levels:
            spreads[-1] = found.spreads[-1]
    return _State(theta, s, spreads, np.zeros(len(groups)))


def _next(pooled: Pooled, state: _State, pace: _Pace) -> _State:
    """One step of the coefficients, of the scale and of the spreads."""
    design, prior = pooled.design, pooled.prior(state.spreads)
    at = derivatives(design.predict(state.theta), state.s, pooled.bounds.low, pooled.bounds.high)
    normal = NormalEquations(design, at.weight, prior.precision)
    theta, at = mode(pooled, prior, state.theta, state.s, at, normal)
    cross = design.total(at.by_eta_s)
    many, turned = _solved(design, normal, cross)
    believed = pooled.spread_prior.spread(state.s, design.rows)
    logs, known = np.log(state.spreads), np.zeros(len(state.spreads))
    for number, group in enumerate(pooled.all_groups):
        spread = float(state.spreads[number])
        if number < len(pooled.groups):
            block = normal.inverse[np.ix_(group, group)]
            known[number] = _known(np.diag(block), spread)
            logs[number] = tried_spreads(theta[group], block, spread, believed, pooled.spread_prior).best
        else:
            known[number] = _known(many[group - design.few.width], spread)
            logs[number] += _spread_step(theta[group], known[number], spread, believed, pooled.spread_prior)
    free = design.few.width - sum(len(group) for group in pooled.groups)
    turn = _scale_step(at, float(known.sum()) + free, float(cross @ turned), state.s, pooled.scale_prior)
    steps = pace.held(np.array([np.clip(turn, -0.5, 0.5), *(logs - np.log(state.spreads))]))
    s = max(state.s + float(steps[0]), float(np.log(pooled.scale_prior.least)))
    return _State(theta, s, state.spreads * np.exp(steps[1:]), known)


def _solved(design: Crossed, normal: NormalEquations, cross: FloatArray) -> tuple[FloatArray, FloatArray]:
    """Variances of the many levels, and the solution of a right side.

    The variances come from a few random signs where they are more than these: only
    their sums are used, which are good to a per cent or so (Hutchinson 1990, Commun. Stat. Simul. 19, 433-450).
    """
    few, many = design.few.width, design.width - design.few.width
    signs = np.random.default_rng(1).choice((-1.0, 1.0), (many, _SIGNS)) / np.sqrt(_SIGNS) if many > _SIGNS else np.eye(many)
    right = np.concatenate([np.zeros((few, signs.shape[1])), signs])
    solved = normal.solve(np.column_stack([right, cross]))
    return (signs * solved[few:, :-1]).sum(axis=1), solved[:, -1]


class _Pace:
    """How far to go where a step is wanted: further while it keeps its direction, less far once it goes to and fro.

    (Jacobs 1988, Neural Netw. 1, 295-307.)
    """

    def __init__(self, most: float) -> None:
        self._most, self._pace, self._before = most, np.full(1, 0.8), np.zeros(1)

    def held(self, wanted: FloatArray) -> FloatArray:
        """The steps of some logs to take where these are wanted."""
        faster = np.minimum(1.4 * self._pace, self._most)
        back, less = wanted * self._before < 0, np.abs(wanted) < 0.5 * np.abs(self._before)
        self._pace = np.where(back, np.where(less, 1.0, 0.5) * self._pace, faster)
        self._before = wanted
        return np.asarray(np.clip(self._pace * wanted, -1.0, 1.0), dtype=np.float64)


def _scale_step(at: Derivatives, determined: float, by_cross: float, s: float, prior: ScalePrior) -> float:
    """Newton step of the log scale on the Laplace marginal likelihood.

    ``determined`` is how many coefficients the rows determine: the sum of the rows' leverages, of each of which the
    curvature is taken to change with the scale as it does on the whole. That is by its square or so, unless hardly a row
    tells anything.
    """
    turning = np.clip(at.weight_by_s.sum() / max(float(at.weight.sum()), 1e-300), -4.0, 4.0)
    curvature = float(turning) * determined
    slope = float(at.by_s.sum()) - 0.5 * curvature - (s - prior.centre) / prior.sd**2
    bend = -float(at.by_s_s.sum()) - by_cross + prior.sd**-2
    return slope / max(bend, 0.5 * abs(slope), 1e-9)


def _spread_step(members: FloatArray, known: float, spread: float, believed: float, prior: SpreadPrior) -> float:
    """Step of the log of the spread of many members, by Fisher's scoring; they are taken to be known about alike."""
    square = spread**2
    slope = float(members @ members) / square - known + prior.levels * (believed**2 / square - 1) - square / prior.widest**2
    bend = 2 * (known**2 / len(members) + prior.levels * believed**2 / square + square / prior.widest**2)
    return float(np.clip(slope / max(bend, 1e-9), -1.0, 1.0))


def _known(variances: FloatArray, spread: float) -> float:
    """How many of the group's members the data determine (the rest is the prior's)."""
    return float(max(len(variances) - variances.sum() / spread**2, 0.0))


def _settled(before: _State, after: _State, slack: float) -> bool:
    """Whether the last step moved nothing that matters: no spread that the rows tell of, and coefficients by little."""
    moved = float(np.sqrt(np.mean((after.theta - before.theta) ** 2))) / np.exp(before.s)
    turned = np.abs(np.log(after.spreads / before.spreads)) * np.minimum(after.known, 1.0)
    return moved < 0.02 * slack and abs(after.s - before.s) < 0.01 * slack and float(turned.max(initial=0.0)) < 0.03 * slack
