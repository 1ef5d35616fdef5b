"""Regression on running totals with rounding and accumulating variation."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from logbook.analysis.numeric.random_walk import (
    Run,
    accumulated,
    own_spread,
    reduced,
    relative_spread,
    rounded_difference,
    rounding_covariance,
    whitened,
)


def simulated(rng: np.random.Generator, readings: int, spread: float, rounding: float) -> Run:
    """Totals of steps that take 2 each, read with errors."""
    steps = np.ones(readings)
    drawn = np.cumsum(2.0 * steps + 2.0 * spread * rng.normal(size=readings))
    design = np.cumsum(steps)[:, None]
    return Run(
        design,
        drawn + rounding * rng.normal(size=readings),
        rounding**2 * np.eye(readings),
        accumulated(np.cumsum(steps**2)),
    )


def test_the_estimate_is_that_of_generalised_least_squares() -> None:
    run = simulated(np.random.default_rng(1), 12, 0.3, 0.5)
    factor = 0.7
    weight = np.linalg.inv(run.known + factor * run.walk)
    truth = np.linalg.solve(run.design.T @ weight @ run.design, run.design.T @ weight @ run.observed)
    data = reduced(whitened([run]), factor)
    assert np.linalg.solve(data.triangle, data.target) == pytest.approx(truth)
    assert np.linalg.inv(data.triangle.T @ data.triangle) == pytest.approx(np.linalg.inv(run.design.T @ weight @ run.design))


def test_runs_add_up() -> None:
    rng = np.random.default_rng(2)
    runs = [simulated(rng, n, 0.3, 0.5) for n in (3, 8, 1)]
    both = reduced(whitened(runs), 0.2)
    single = [reduced(whitened([run]), 0.2) for run in runs]
    together = sum(one.triangle.T @ one.triangle for one in single)
    assert both.triangle.T @ both.triangle == pytest.approx(together)
    assert both.rows == 12


@pytest.mark.parametrize("spread", [0.1, 0.5])
def test_the_spread_is_found(spread: float) -> None:
    rng = np.random.default_rng(3)
    data = [(whitened([simulated(rng, 60, spread, 0.3) for _ in range(4)]), 2.0) for _ in range(5)]
    assert relative_spread(data, 0.02, 3.0) == pytest.approx(spread, rel=0.15)


def test_no_spread_is_found_where_there_is_none() -> None:
    rng = np.random.default_rng(4)
    data = [(whitened([simulated(rng, 60, 0.0, 0.5)]), 2.0) for _ in range(5)]
    assert relative_spread(data, 0.02, 3.0) < 0.06


def test_a_short_series_keeps_to_the_usual_spread() -> None:
    run = whitened([simulated(np.random.default_rng(5), 3, 0.1, 0.5)])
    assert own_spread(run, 2.0, 0.25, 0.02, 3.0) == pytest.approx(0.25, rel=0.3)


# Worked out again, without the series and without the turning


def _sawtooth(apart: float, unsure: float, step: float) -> float:
    """Mean product of the rounding errors of two readings whose distance is normal: over the distance, summed.

    At a distance of f steps it is step^2 (1 / 12 - f (1 - f) / 2).
    """
    nodes = np.linspace(-8, 8, 20_001)
    weights = np.exp(-(nodes**2) / 2)
    share = ((apart + np.sqrt(unsure) * nodes) / step) % 1.0
    return float(weights @ (1 / 12 - share * (1 - share) / 2) / weights.sum()) * step**2


@pytest.mark.parametrize(("apart", "unsure"), [(0.0, 0.3), (0.7, 0.2), (2.9, 0.2), (1.0, 0.4)])
def test_what_two_roundings_share_is_the_mean_over_what_may_lie_between(apart: float, unsure: float) -> None:
    step = 2.0
    uncertain = np.array([[0.0, unsure], [unsure, 0.0]])
    covariance = rounding_covariance(np.array([5.0, 5.0 + apart]), uncertain, step)
    shared = _sawtooth(apart, unsure, step)
    assert covariance[0, 1] == covariance[1, 0] == pytest.approx(shared, abs=1e-5)
    assert np.diag(covariance) == pytest.approx([4 / 12, 4 / 12])
    difference = rounded_difference(np.array([apart]), np.array([unsure]), step)
    assert difference[0] == pytest.approx(2 * 4 / 12 - 2 * shared, abs=2e-5)


def _deviance(runs: list[Run], factor: float) -> float:
    """-2 log restricted likelihood with whole matrices."""
    n = sum(len(run.observed) for run in runs)
    variance, at = np.zeros((n, n)), 0
    for run in runs:
        m = len(run.observed)
        variance[at : at + m, at : at + m] = run.known + factor * run.walk
        at += m
    x, y = np.vstack([run.design for run in runs]), np.concatenate([run.observed for run in runs])
    weight = np.linalg.inv(variance)
    bend = x.T @ weight @ x
    left = y - x @ np.linalg.solve(bend, x.T @ weight @ y)
    return float(np.linalg.slogdet(variance)[1] + np.linalg.slogdet(bend)[1] + left @ weight @ left)


def test_the_spread_is_that_of_greatest_restricted_likelihood() -> None:
    rng = np.random.default_rng(6)
    series = [[simulated(rng, n, 0.4, 0.5) for n in (9, 5)], [simulated(rng, 12, 0.4, 0.5)]]
    scales = (2.0, 3.0)

    def together(log_spread: float) -> float:
        pairs = zip(series, scales, strict=True)
        return sum(_deviance(runs, (np.exp(log_spread) * scale) ** 2) for runs, scale in pairs)

    best = optimize.minimize_scalar(together, bounds=(np.log(0.02), np.log(3.0)), method="bounded").x
    found = relative_spread([(whitened(runs), scale) for runs, scale in zip(series, scales, strict=True)], 0.02, 3.0)
    assert found == pytest.approx(np.exp(best), rel=0.01)


def test_one_series_spread_is_pulled_to_the_usual_one() -> None:
    runs = [simulated(np.random.default_rng(7), 14, 0.7, 0.4)]

    def pulled(log_spread: float) -> float:
        return _deviance(runs, float(2 * np.exp(log_spread)) ** 2) + float((log_spread - np.log(0.2)) / 0.4) ** 2

    best = optimize.minimize_scalar(pulled, bounds=(np.log(0.02), np.log(3.0)), method="bounded").x
    found = own_spread(whitened(runs), 2.0, 0.2, 0.02, 3.0)
    assert found == pytest.approx(np.exp(best), rel=0.01)
    assert 0.2 < found < relative_spread([(whitened(runs), 2.0)], 0.02, 3.0)


def test_without_any_spread_the_least_is_taken_exactly() -> None:
    steps = np.arange(1.0, 20.0)
    exact = Run(steps[:, None], 2 * steps, 0.25 * np.eye(19), accumulated(steps))
    assert relative_spread([(whitened([exact]), 2.0)], 0.02, 3.0) == 0.02


def test_what_no_row_touches_takes_no_part() -> None:
    run = simulated(np.random.default_rng(8), 10, 0.4, 0.5)
    wider = Run(np.column_stack([run.design, np.zeros(10)]), run.observed, run.known, run.walk)
    found = [relative_spread([(whitened([one]), 2.0)], 0.02, 3.0) for one in (run, wider)]
    assert found[1] == pytest.approx(found[0])
    data = reduced(whitened([wider]), 0.1)
    assert data.triangle[:, 1].tolist() == [0.0, 0.0]


def test_fewer_rows_than_rates_are_borne() -> None:
    run = Run(np.array([[1.0, 2.0, 3.0]]), np.array([6.0]), np.array([[0.25]]), np.array([[1.0]]))
    data = reduced(whitened([run]), 0.0)
    assert data.triangle.shape == (3, 3)
    assert data.triangle.T @ data.triangle == pytest.approx(4 * np.outer([1, 2, 3], [1, 2, 3]))
    assert data.triangle.T @ data.target == pytest.approx(4 * 6 * np.array([1, 2, 3]))
    assert data.rows == 1
