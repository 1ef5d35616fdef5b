"""Estimates under bounds, against another implementation."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import optimize

from logbook.analysis.numeric.bounded import bounded_estimate, free_covariance
from logbook.analysis.numeric.random_walk import Reduced


@pytest.mark.parametrize("target", [[3.0, 1.0, 0.5], [3.0, -0.4, 0.5], [-1.0, 2.0, 0.1], [0.5, 0.2, -3.0], [9.0, 4.0, 1.6]])
def test_they_are_those_of_nonnegative_least_squares(target: list[float]) -> None:
    triangle = np.array([[2.0, 1.8, 0.3], [0.0, 0.7, -0.4], [0.0, 0.0, 0.9]])
    data = Reduced(triangle, np.array(target), 3)
    assert bounded_estimate(data) == pytest.approx(optimize.nnls(triangle, data.target)[0], abs=1e-6)


def test_what_cannot_be_told_apart_is_shared() -> None:
    data = Reduced(np.array([[10.0, 10.0], [0.0, 0.0]]), np.array([100.0, 0.0]), 2)
    assert bounded_estimate(data) == pytest.approx([5.0, 5.0], rel=1e-6)


def test_the_free_covariance_is_the_inverse_and_the_pseudo_inverse_where_there_is_none() -> None:
    triangle = np.array([[2.0, 1.0], [0.0, 0.5]])
    assert free_covariance(Reduced(triangle, np.zeros(2), 2)) == pytest.approx(np.linalg.inv(triangle.T @ triangle))
    alike = free_covariance(Reduced(np.array([[10.0, 10.0], [0.0, 0.0]]), np.zeros(2), 2))
    assert alike == pytest.approx(np.full((2, 2), 1 / 400))
