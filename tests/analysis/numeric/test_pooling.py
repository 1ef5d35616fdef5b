"""Partial pooling: rare levels shrink, known ones stay, and surprises do not run away."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.numeric.design import Design, FloatArray, IntArray
from logbook.analysis.numeric.interval_regression import Bounds, Fit, Prior
from logbook.analysis.numeric.pooling import ScalePrior, SpreadPrior, fit_pooled

SCATTER = ScalePrior(np.log(0.2), 1.0)


def _fit(codes: IntArray, stops: FloatArray, levels: int) -> Fit:
    rows = Design(np.ones((len(codes), 1)), codes[:, None], (levels,))
    rating = np.rint(3 * stops)
    bounds = Bounds((rating - 0.5) / 3, (rating + 0.5) / 3, np.ones(len(codes)))
    nothing = Prior(np.zeros(levels + 1), np.zeros(levels + 1))
    return fit_pooled(rows, bounds, nothing, [np.arange(1, levels + 1)], SCATTER)


def test_a_rare_level_is_pulled_to_the_average_and_a_common_one_is_not() -> None:
    rng = np.random.default_rng(1)
    effects = np.array([0.0, -0.4, 0.1, 0.9])
    codes = np.repeat([0, 1, 2, 3], [150, 150, 150, 2])
    stops = effects[codes] + 0.1 * rng.logistic(size=len(codes))
    found = _fit(codes, stops, 4)
    means = np.array([stops[codes == level].mean() for level in range(4)])
    estimated = found.theta[0] + found.theta[1:]
    assert abs(estimated[1] - means[1]) < 0.02
    assert estimated[3] < means[3] - 0.02

    def sd(level: int) -> float:
        row = np.zeros(6)
        row[[0, 1 + level]] = 1.0
        return float(np.sqrt(row @ found.covariance @ row))

    assert sd(3) > 3 * sd(1)


def test_levels_without_any_effect_get_a_small_spread() -> None:
    rng = np.random.default_rng(2)
    codes = rng.integers(0, 6, 600)
    quiet = _fit(codes, 0.1 * rng.logistic(size=600), 6)
    loud = _fit(codes, np.linspace(-0.5, 0.5, 6)[codes] + 0.1 * rng.logistic(size=600), 6)
    assert quiet.spreads[0] < 0.06
    assert 0.2 < loud.spreads[0] < 0.7


def test_the_scale_does_not_shrink_with_useless_columns() -> None:
    scales = []
    for seed in range(20):
        rng = np.random.default_rng(seed)
        scales.append(_fit(rng.integers(0, 25, 100), 0.15 * rng.logistic(size=100), 25).scale)
    # Plain maximum likelihood would give 0.15 * sqrt(0.75) = 0.13.
    assert np.mean(scales) == pytest.approx(0.15, rel=0.08)


def test_one_surprising_print_does_not_run_away() -> None:
    rng = np.random.default_rng(4)
    codes = np.concatenate([np.zeros(60, dtype=np.int64), np.ones(60, dtype=np.int64), [2]])
    stops = np.concatenate([0.1 * rng.logistic(size=120), [1.6]])
    found = _fit(codes, stops, 3)
    assert abs(found.theta[3]) < 2.0


def test_the_spread_believed_in_shrinks_as_rows_gather() -> None:
    assert SpreadPrior().spread(0.0, 400.0) == pytest.approx(SpreadPrior().spread(0.0, 100.0) / 2)


def test_rows_at_the_open_ends_cannot_carry_the_spread_to_infinity() -> None:
    codes = np.repeat([0, 1], 30)
    low, high = np.where(codes == 0, -np.inf, 1.8), np.where(codes == 0, -1.8, np.inf)
    rows = Design(np.ones((60, 1)), codes[:, None], (2,))
    base = Prior(np.zeros(3), np.array([0.25, 0.0, 0.0]))
    found = fit_pooled(rows, Bounds(low, high, np.ones(60)), base, [np.array([1, 2])], SCATTER, SpreadPrior(widest=1.0))
    assert found.spreads[0] < 3.0
    assert np.isfinite(found.covariance).all()
