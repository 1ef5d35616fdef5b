"""Regression on values known only between bounds, with normal priors whose spread is learnt.

Model: z = X·theta + scale·e, e logistic, and low < z <= high is all that is known of z. With no
prior it is grouped-data regression (Stewart 1983, Rev. Econ. Stud. 50, 737-753) by maximum
likelihood. Groups of coefficients may share a normal prior around 0 whose spread comes from the data.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.design import Design
from logbook.analysis.numeric.grouped import Derivatives, derivatives, expected_weight, log_likelihood

FloatArray = NDArray[np.float64]


@dataclass(frozen=True)
class Bounds:
    """What is known of each row: it lies in (low, high], seen ``count`` times; all (rows,)."""

    low: FloatArray
    high: FloatArray
    count: FloatArray


@dataclass(frozen=True)
class Prior:
    """Normal prior of every coefficient: ``centre`` and ``precision`` (0: none), (width,)."""

    centre: FloatArray
    precision: FloatArray

    def log_density(self, theta: FloatArray) -> float:
        """Log prior without its constant."""
        return float(-0.5 * np.sum(self.precision * (theta - self.centre) ** 2))


@dataclass(frozen=True)
class Fit:
    """Coefficients and the log of the scale, with their joint covariance.

    ``covariance`` is (width + 1, width + 1), the log of the scale last.
    """

    theta: FloatArray
    s: float
    covariance: FloatArray
    loglik: float
    spreads: FloatArray = field(default_factory=lambda: np.zeros(0))
    steps: int = 0

    @property
    def scale(self) -> float:
        """Scale of the logistic errors, in the unit of the bounds."""
        return float(np.exp(self.s))

    @property
    def coefficient_covariance(self) -> FloatArray:
        """Covariance of the coefficients alone."""
        return self.covariance[:-1, :-1]


def no_prior(width: int) -> Prior:
    """The flat prior: plain maximum likelihood."""
    return Prior(np.zeros(width), np.zeros(width))


def start_values(design: Design, bounds: Bounds, prior: Prior) -> tuple[FloatArray, float]:
    """Where Newton starts: the first covariate column (the constant) at the mean of the middles."""
    middle = _middles(bounds)
    mean = float(np.average(middle, weights=bounds.count))
    sd = float(np.sqrt(np.average((middle - mean) ** 2, weights=bounds.count)))
    theta = prior.centre.copy()
    theta[0] += mean
    return theta, float(np.log(max(sd, 1e-3) * np.sqrt(3) / np.pi))


def fit(design: Design, bounds: Bounds, prior: Prior, most_steps: int = 100) -> Fit:
    """Mode over the coefficients and the scale together, by Newton's method.

    Without a prior this is the maximum-likelihood fit; the covariance is the inverse of the
    negative Hessian there. Raises ``ArithmeticError`` where there is no finite mode.

    >>> rows = Design(np.ones((4, 1)), np.zeros((4, 0), dtype=np.int64))
    >>> seen = Bounds(np.array([-9.0, 0, 0, 1]), np.array([0.0, 1, 1, 9]), np.ones(4))
    >>> round(float(fit(rows, seen, no_prior(1)).theta[0]), 6)
    0.5
    """
    theta, s = start_values(design, bounds, prior)
    value = _objective(design, bounds, prior, theta, s)
    for step in range(1, most_steps + 1):
        at = derivatives(design.predict(theta), s, bounds.low, bounds.high)
        slope, bend = _joint(design, bounds, prior, theta, at)
        move = _ascent(slope, bend)
        move *= min(1.0, 1.0 / max(abs(float(move[-1])), 1e-300))
        theta, s, gained = _climb(design, bounds, prior, theta, s, move, value)
        value += gained
        if gained < 1e-10 * (1 + abs(value)) and float(np.abs(move).max()) < 1e-5:
            at = derivatives(design.predict(theta), s, bounds.low, bounds.high)
            _, bend = _joint(design, bounds, prior, theta, at)
            return Fit(theta, s, _inverse(bend), float(at.loglik @ bounds.count), steps=step)
    raise ArithmeticError("the likelihood has no finite maximum on these rows")


def with_expected_covariance(design: Design, bounds: Bounds, prior: Prior, state: Fit, scale_precision: float) -> Fit:
    """The same fit with a covariance from what the rows were bound to tell, not from how they happened to fall.

    A single surprising row has next to no curvature of its own and would look as if it told nothing. Location and
    scale of a symmetric error are orthogonal, so their covariance is 0; ``scale_precision`` is the log scale's prior.
    """
    eta = design.predict(state.theta)
    weight = expected_weight(eta, state.s, bounds.low, bounds.high)
    at = derivatives(eta, state.s, bounds.low, bounds.high)
    covariance = np.zeros((design.width + 1, design.width + 1))
    covariance[:-1, :-1] = _inverse(design.gram(bounds.count * weight) + np.diag(prior.precision))
    covariance[-1, -1] = 1 / (max(-float(bounds.count @ at.by_s_s), 0.0) + scale_precision)
    return replace(state, covariance=covariance, loglik=float(at.loglik @ bounds.count))


def _joint(design: Design, bounds: Bounds, prior: Prior, theta: FloatArray, at: Derivatives) -> tuple[FloatArray, FloatArray]:
    """Gradient and negative Hessian by (theta, s)."""
    width = design.width
    slope, bend = np.empty(width + 1), np.empty((width + 1, width + 1))
    slope[:-1] = design.total(bounds.count * at.by_eta) - prior.precision * (theta - prior.centre)
    slope[-1] = bounds.count @ at.by_s
    bend[:-1, :-1] = design.gram(bounds.count * at.weight) + np.diag(prior.precision)
    bend[-1, :-1] = bend[:-1, -1] = -design.total(bounds.count * at.by_eta_s)
    bend[-1, -1] = -bounds.count @ at.by_s_s
    return slope, bend


def _ascent(slope: FloatArray, bend: FloatArray) -> FloatArray:
    """Newton's move; where the curvature is not that of a hill, one shorter and uphill."""
    ridge = 0.0
    for _ in range(60):
        hill = bend + ridge * np.diag(np.abs(np.diag(bend)) + 1e-9)
        try:
            np.linalg.cholesky(hill)
            return np.asarray(np.linalg.solve(hill, slope), dtype=np.float64)
        except np.linalg.LinAlgError:
            ridge = max(4 * ridge, 1e-6)
    raise ArithmeticError("the likelihood has no curvature on these rows")


def _climb(
    design: Design,
    bounds: Bounds,
    prior: Prior,
    theta: FloatArray,
    s: float,
    move: FloatArray,
    value: float,
) -> tuple[FloatArray, float, float]:
    """Newton's move, halved until it does not lose height; the height gained comes last."""
    for halving in range(40):
        share = 0.5**halving
        there, s_there = theta + share * move[:-1], s + share * float(move[-1])
        gained = _objective(design, bounds, prior, there, s_there) - value
        if gained >= 0:
            return there, s_there, gained
    return theta, s, 0.0


def _objective(design: Design, bounds: Bounds, prior: Prior, theta: FloatArray, s: float) -> float:
    rows = log_likelihood(design.predict(theta), s, bounds.low, bounds.high)
    return float(rows @ bounds.count) + prior.log_density(theta)


def _middles(bounds: Bounds) -> FloatArray:
    low = np.where(np.isfinite(bounds.low), bounds.low, bounds.high)
    high = np.where(np.isfinite(bounds.high), bounds.high, bounds.low)
    return np.asarray((low + high) / 2, dtype=np.float64)


def _inverse(bend: FloatArray) -> FloatArray:
    try:
        out = np.asarray(np.linalg.inv(bend), dtype=np.float64)
    except np.linalg.LinAlgError as error:
        raise ArithmeticError("the likelihood is flat on these rows") from error
    if not bool((np.diag(out) > 0).all()):
        raise ArithmeticError("the likelihood has no finite maximum on these rows")
    return out
