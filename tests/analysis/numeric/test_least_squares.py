"""Least squares that refuse what they cannot answer."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.numeric.least_squares import least_squares


def test_columns_that_depend_on_each_other_are_refused() -> None:
    with pytest.raises(np.linalg.LinAlgError):
        least_squares([[1, 0], [1, 0], [1, 0]], [1, 2, 3])
    with pytest.raises(np.linalg.LinAlgError):
        least_squares([[1, 2], [2, 4], [3, 6]], [1, 2, 3])


def test_shapes_that_do_not_fit_are_refused() -> None:
    with pytest.raises(ValueError, match="shape"):
        least_squares([[1, 2]], [1])
    with pytest.raises(ValueError, match="shape"):
        least_squares([[1], [2]], [1, 2, 3])


def test_residuals_are_square_to_the_columns() -> None:
    rng = np.random.default_rng(3)
    x, y = rng.normal(size=(30, 4)), rng.normal(size=30)
    fit = least_squares(x, y)
    assert x.T @ fit.residuals == pytest.approx(np.zeros(4), abs=1e-12)
    assert fit.unit_covariance == pytest.approx(np.linalg.inv(x.T @ x))


def test_as_many_columns_as_rows_leave_no_residual() -> None:
    fit = least_squares([[1, 1], [1, 2]], [3, 5])
    assert fit.residual_sd == 0.0
    assert fit.coefficients == pytest.approx([1.0, 2.0])


def test_one_row_more_than_columns_leaves_one_degree_of_freedom() -> None:
    """The mean of 1 and 3: residuals -1 and 1, sd sqrt(2), standard error sqrt(2) / sqrt(2)."""
    fit = least_squares([[1], [1]], [1, 3])
    assert fit.residual_sd == pytest.approx(np.sqrt(2))
    assert fit.standard_errors == pytest.approx([1.0])
