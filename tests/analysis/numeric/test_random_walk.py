"""Regression on running totals with rounding and accumulating variation."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.numeric.random_walk import Run, accumulated, own_spread, reduced, relative_spread, whitened


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
