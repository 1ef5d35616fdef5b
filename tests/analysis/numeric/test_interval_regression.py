"""The plain fit: it finds the truth, and says so where there is none to find."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.numeric.design import Design, FloatArray, IntArray, group_rows
from logbook.analysis.numeric.grouped import log_likelihood
from logbook.analysis.numeric.interval_regression import Bounds, Fit, Prior, fit, no_prior, start_values, with_expected_covariance


def _rows(prints: int, seed: int) -> tuple[Design, Bounds]:
    rng = np.random.default_rng(seed)
    x = rng.normal(size=prints)
    z = -0.2 + 0.3 * x + 0.15 * rng.logistic(size=prints)
    low = np.floor(z * 3) / 3
    return Design(np.column_stack([np.ones(prints), x]), np.zeros((prints, 0), dtype=np.int64)), Bounds(
        low, low + 1 / 3, np.ones(prints)
    )


def test_many_rows_give_back_the_truth() -> None:
    rows, bounds = _rows(20_000, 1)
    found = fit(rows, bounds, no_prior(2))
    sd = np.sqrt(np.diag(found.covariance))
    assert np.abs(found.theta - [-0.2, 0.3]).max() < 4 * sd[:2].max()
    assert found.scale == pytest.approx(0.15, rel=0.03)


def test_rows_counted_twice_weigh_as_two() -> None:
    rows, bounds = _rows(200, 2)
    twice = fit(rows, Bounds(bounds.low, bounds.high, np.full(200, 2.0)), no_prior(2))
    both = rows.take(np.concatenate([np.arange(200), np.arange(200)]))
    copied = fit(both, Bounds(np.tile(bounds.low, 2), np.tile(bounds.high, 2), np.ones(400)), no_prior(2))
    np.testing.assert_allclose(twice.theta, copied.theta, atol=1e-8)
    np.testing.assert_allclose(twice.covariance, copied.covariance, atol=1e-8)


def test_grouping_equal_rows_changes_nothing() -> None:
    rng = np.random.default_rng(5)
    codes = rng.integers(0, 2, (400, 1))
    rating = np.clip(np.rint(3 * (0.3 * codes[:, 0] + 0.2 * rng.logistic(size=400))), -6, 6).astype(np.int64)
    rows = Design(np.column_stack([np.ones(400), codes[:, 0].astype(float)]), np.zeros((400, 0), dtype=np.int64))
    first, count, _ = group_rows(rows, rating)

    def bounds(of: IntArray, weight: FloatArray) -> Bounds:
        return Bounds((of - 0.5) / 3, (of + 0.5) / 3, weight)

    whole = fit(rows, bounds(rating, np.ones(400)), no_prior(2))
    grouped = fit(rows.take(first), bounds(rating[first], count.astype(float)), no_prior(2))
    assert len(first) < 30
    np.testing.assert_allclose(whole.theta, grouped.theta, atol=1e-7)
    assert whole.loglik == pytest.approx(grouped.loglik)


def test_a_strong_prior_holds_a_coefficient() -> None:
    rows, bounds = _rows(100, 6)
    held = fit(rows, bounds, Prior(np.array([0.0, 1.0]), np.array([0.0, 1e9])))
    assert held.theta[1] == pytest.approx(1.0, abs=1e-4)


def test_a_maximum_that_lies_at_infinity_is_refused() -> None:
    rows = Design(np.column_stack([np.ones(4), [0.0, 0, 1, 1]]), np.zeros((4, 0), dtype=np.int64))
    split = Bounds(np.array([-np.inf, -np.inf, 0.0, 0.0]), np.array([0.0, 0.0, np.inf, np.inf]), np.ones(4))
    with pytest.raises(ArithmeticError):
        fit(rows, split, no_prior(2))


def test_newton_starts_at_the_weighted_middles_and_their_spread() -> None:
    """Middles 1 and 4 (an open end counts as its bound), seen 3 and 1 times: mean 1.75, variance 27/16."""
    rows = Design(np.ones((2, 1)), np.zeros((2, 0), dtype=np.int64))
    theta, s = start_values(rows, Bounds(np.array([0.0, 4.0]), np.array([2.0, np.inf]), np.array([3.0, 1.0])), no_prior(1))
    assert theta.tolist() == pytest.approx([1.75])
    assert np.exp(s) * np.pi / np.sqrt(3) == pytest.approx(np.sqrt(27 / 16))


def test_it_starts_from_the_centre_of_the_prior_and_never_from_no_spread_at_all() -> None:
    rows = Design(np.ones((2, 2)), np.zeros((2, 0), dtype=np.int64))
    alike = Bounds(np.array([0.0, 0.0]), np.array([2.0, 2.0]), np.ones(2))
    theta, s = start_values(rows, alike, Prior(np.array([0.5, 3.0]), np.ones(2)))
    assert theta.tolist() == [1.5, 3.0]
    assert np.exp(s) * np.pi / np.sqrt(3) == pytest.approx(1e-3)


def test_a_plain_fit_has_no_spreads_and_says_its_steps() -> None:
    rows, bounds = _rows(50, 3)
    found = fit(rows, bounds, no_prior(2))
    assert len(found.spreads) == 0
    assert 2 <= found.steps <= 15
    with pytest.raises(ArithmeticError):
        fit(rows, bounds, no_prior(2), most_steps=found.steps - 1)


def test_as_many_steps_as_it_takes_are_enough() -> None:
    rows, bounds = _rows(50, 3)
    found = fit(rows, bounds, no_prior(2))
    assert fit(rows, bounds, no_prior(2), most_steps=found.steps).theta.tolist() == found.theta.tolist()


def test_the_covariance_is_that_of_what_the_rows_were_bound_to_tell() -> None:
    """Nine nearly exact rows at the middle of a logistic curve of scale 1: information 9 / 3 of the place, 0 of the
    log scale (its prior, 4, is all there is), density 1 / 4 times the step each.
    """
    rows = Design(np.ones((1, 1)), np.zeros((1, 0), dtype=np.int64))
    seen = Bounds(np.array([-0.0005]), np.array([0.0005]), np.array([9.0]))
    state = Fit(np.zeros(1), 0.0, np.zeros((0, 0)), 0.0)
    found = with_expected_covariance(rows, seen, no_prior(1), state, scale_precision=4.0)
    np.testing.assert_allclose(found.covariance, [[1 / 3, 0.0], [0.0, 1 / 4]], atol=1e-4)
    assert found.loglik == pytest.approx(9 * np.log(0.001 / 4), abs=1e-4)
    held = with_expected_covariance(rows, seen, Prior(np.zeros(1), np.array([2.0])), state, scale_precision=4.0)
    assert held.covariance[0, 0] == pytest.approx(1 / 5, abs=1e-4)
    assert held.coefficient_covariance.tolist() == [[held.covariance[0, 0]]]


def test_a_constant_known_beforehand_is_climbed_to_from_beyond() -> None:
    rows = Design(np.ones((100, 1)), np.zeros((100, 0), dtype=np.int64))
    middles = np.tile([1.5, 2.0, 2.5, 2.0], 25)
    held = fit(rows, Bounds(middles - 0.25, middles + 0.25, np.ones(100)), Prior(np.array([5.0]), np.array([1e7])))
    assert held.theta[0] == pytest.approx(5.0, abs=1e-3)


def test_the_covariance_is_the_inverse_of_the_curvature_all_round() -> None:
    """Second differences of the log-likelihood by place, slope and log scale, those across among them."""
    rng = np.random.default_rng(9)
    x = np.column_stack([np.ones(40), rng.normal(size=40)])
    z = 0.3 * x[:, 1] + 0.3 * rng.logistic(size=40)
    low, high = np.where(z < -0.3, -np.inf, np.floor(3 * z) / 3), np.where(z < -0.3, -0.3, np.floor(3 * z) / 3 + 1 / 3)
    prior = Prior(np.array([0.0, 0.2]), np.array([0.0, 4.0]))
    found = fit(Design(x, np.zeros((40, 0), dtype=np.int64)), Bounds(low, high, np.ones(40)), prior)

    def height(at: FloatArray) -> float:
        return float(log_likelihood(x @ at[:2], float(at[2]), low, high).sum() - 2.0 * (at[1] - 0.2) ** 2)

    peak, step = np.append(found.theta, found.s), 1e-4 * np.eye(3)
    bend = np.array(
        [[height(peak + a + b) - height(peak + a - b) - height(peak - a + b) + height(peak - a - b) for a in step] for b in step]
    )
    np.testing.assert_allclose(found.covariance, np.linalg.inv(-bend / 4e-8), rtol=1e-3, atol=1e-6)
    assert abs(found.covariance[0, 2]) > 1e-4  # open ends on one side only: place and scale hang together
