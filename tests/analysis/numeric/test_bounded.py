"""Intervals under bounds: ordinary far from them, honest at them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy import optimize

from logbook.analysis.numeric.bounded import bounded_estimate, bounded_intervals, free_covariance
from logbook.analysis.numeric.interval import Z90
from logbook.analysis.numeric.random_walk import Reduced


def test_far_from_the_bound_they_are_the_ordinary_ones() -> None:
    data = Reduced(np.array([[2.0, 0.5], [0.0, 1.0]]), np.array([30.0, 10.0]), 2)
    estimate = bounded_estimate(data)
    covariance = np.linalg.inv(data.triangle.T @ data.triangle)
    for n, found in enumerate(bounded_intervals(data, estimate)):
        reach = Z90 * math.sqrt(covariance[n, n])
        assert (found.low, found.high) == pytest.approx((estimate[n] - reach, estimate[n] + reach))


def test_an_estimate_at_the_bound_keeps_a_width_and_starts_at_nothing() -> None:
    for below in (0.0, 0.5, 1.0, 3.0):
        data = Reduced(np.eye(1), np.array([-below]), 1)
        (found,) = bounded_intervals(data, bounded_estimate(data))
        assert found.value == found.low == 0.0
        assert found.high == pytest.approx(-below + math.sqrt(below**2 + Z90**2), abs=1e-6)


@pytest.mark.parametrize("truth", [0.0, 0.2, 0.5, 1.0, 2.0, 5.0])
def test_they_hold_the_truth_nine_times_in_ten_or_a_little_more(truth: float) -> None:
    rng = np.random.default_rng(11)
    held = 0
    for drawn in truth + rng.normal(size=400):
        data = Reduced(np.eye(1), np.array([drawn]), 1)
        (found,) = bounded_intervals(data, bounded_estimate(data))
        held += found.low <= truth <= found.high
    # 400 draws: three standard errors below 0.9, and the 0.95 that a bound leaves.
    assert 0.855 < held / 400 < 0.985


def test_what_the_data_do_not_touch_has_no_upper_end() -> None:
    data = Reduced(np.array([[1.0, 0.0], [0.0, 0.0]]), np.array([2.0, 0.0]), 1)
    first, second = bounded_intervals(data, bounded_estimate(data))
    assert first.value == pytest.approx(2.0)
    assert (second.value, second.low, second.high) == (0.0, 0.0, math.inf)


def test_what_cannot_be_told_apart_is_shared_and_its_interval_holds_both_extremes() -> None:
    data = Reduced(np.array([[10.0, 10.0], [0.0, 0.0]]), np.array([100.0, 0.0]), 2)
    estimate = bounded_estimate(data)
    assert estimate == pytest.approx([5.0, 5.0], rel=1e-6)
    for found in bounded_intervals(data, estimate):
        assert found.low == 0.0
        assert found.high == pytest.approx(10.0 + Z90 / 10.0, abs=0.01)


def _profile(data: Reduced, index: int, z: float) -> tuple[float, float]:
    """The ends by scipy's non-negative least squares and root finding, one held value after the other."""

    def misfit(value: float) -> float:
        others = np.delete(data.triangle, index, axis=1)
        return float(optimize.nnls(others, data.target - data.triangle[:, index] * value)[1] ** 2)

    best, least = optimize.nnls(data.triangle, data.target)
    least = least**2
    value = float(best[index])

    def beyond(at: float) -> float:
        return float(misfit(at) - least - z**2)

    low = 0.0 if beyond(0.0) <= 0 else optimize.brentq(beyond, 0.0, value)
    return low, float(optimize.brentq(beyond, value, value + 100.0))


@pytest.mark.parametrize("z", [Z90, 1.0, 2.5])
@pytest.mark.parametrize("target", [[3.0, 1.0, 0.5], [3.0, -0.4, 0.5], [-1.0, 2.0, 0.1], [0.5, 0.2, -3.0], [9.0, 4.0, 1.6]])
def test_the_ends_are_those_of_the_profile_likelihood(target: list[float], z: float) -> None:
    triangle = np.array([[2.0, 1.8, 0.3], [0.0, 0.7, -0.4], [0.0, 0.0, 0.9]])
    data = Reduced(triangle, np.array(target), 3)
    estimate = bounded_estimate(data)
    assert estimate == pytest.approx(optimize.nnls(triangle, data.target)[0], abs=1e-6)
    for index, found in enumerate(bounded_intervals(data, estimate, z)):
        assert (found.low, found.high) == pytest.approx(_profile(data, index, z), abs=1e-5)
        assert found.value == estimate[index]


def test_the_free_covariance_is_the_inverse_and_the_pseudo_inverse_where_there_is_none() -> None:
    triangle = np.array([[2.0, 1.0], [0.0, 0.5]])
    assert free_covariance(Reduced(triangle, np.zeros(2), 2)) == pytest.approx(np.linalg.inv(triangle.T @ triangle))
    alike = free_covariance(Reduced(np.array([[10.0, 10.0], [0.0, 0.0]]), np.zeros(2), 2))
    assert alike == pytest.approx(np.full((2, 2), 1 / 400))


def test_an_end_at_which_another_rate_meets_its_bound_is_no_ordinary_one() -> None:
    """All are well above 0 but the first: it meets 0 within the interval of the second, which hangs on it."""
    triangle = 3.0 * np.array([[2.0, 1.8, 0.3], [0.0, 0.7, -0.4], [0.0, 0.0, 0.9]])
    data = Reduced(triangle, triangle @ np.array([0.5, 3.0, 1.7]), 3)
    estimate = bounded_estimate(data)
    found = bounded_intervals(data, estimate)[1]
    assert (found.low, found.high) == pytest.approx(_profile(data, 1, Z90), abs=1e-5)
    assert found.high - estimate[1] < 0.9 * (estimate[1] - found.low)
