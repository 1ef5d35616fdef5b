"""Rows of factors as level numbers give the same sums as the whole matrix."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.numeric.design import Design


@pytest.fixture(params=[0, 1, 2, "times"])
def design(request: pytest.FixtureRequest) -> Design:
    rng = np.random.default_rng(3)
    covariates = np.column_stack([np.ones(50), rng.normal(size=50)])
    codes = np.column_stack([rng.integers(0, 3, 50), rng.integers(0, 4, 50), rng.integers(0, 2, 50)])
    if request.param == "times":
        return Design(covariates, codes, (3, 4, 2), 1, {0: rng.normal(size=50), 1: rng.normal(size=50)})
    return Design(covariates, codes, (3, 4, 2), request.param)


@pytest.mark.parametrize("small", [0, 500_000])
def test_sums_equal_those_of_the_whole_matrix(design: Design, small: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("logbook.analysis.numeric.design._SMALL", small)
    rng = np.random.default_rng(4)
    matrix, weights = design.dense(), rng.normal(size=50)
    coefficients = rng.normal(size=design.width)
    np.testing.assert_allclose(design.predict(coefficients), matrix @ coefficients)
    np.testing.assert_allclose(design.total(weights), matrix.T @ weights)
    by = rng.integers(0, 6, 50)
    np.testing.assert_allclose(design.by_level(weights, by, 7), np.eye(7)[by].T @ (weights[:, None] * matrix), atol=1e-12)
    np.testing.assert_allclose(design.gram(weights), matrix.T @ (weights[:, None] * matrix), atol=1e-12)


@pytest.mark.parametrize("small", [0, 500_000])
def test_without_factors_it_is_an_ordinary_matrix(small: int, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("logbook.analysis.numeric.design._SMALL", small)
    rows = Design(np.array([[1.0, 2.0], [1.0, 3.0]]), np.zeros((2, 0), dtype=np.int64))
    assert rows.gram(np.ones(2)).tolist() == [[2.0, 5.0], [5.0, 13.0]]


def test_the_columns_of_a_walk_are_the_steps_between_its_levels() -> None:
    rows = Design(np.zeros((4, 0)), np.array([[0], [1], [2], [1]]), (3,), walks=1)
    assert rows.predict(np.array([1.0, 0.5, -2.0])).tolist() == [1.0, 1.5, -0.5, 1.5]
