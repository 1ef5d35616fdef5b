"""Two factors of many levels: the same sums and solutions as with the whole matrix."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.numeric.crossed import Crossed, NormalEquations, crossed
from logbook.analysis.numeric.design import Design, FloatArray


@pytest.fixture(params=["both", "kept", "eliminated", "neither"])
def rows(request: pytest.FixtureRequest) -> Crossed:
    rng = np.random.default_rng(1)
    few = Design(np.column_stack([np.ones(200), rng.normal(size=200)]), rng.integers(0, 3, (200, 2)), (3, 4), walks=1)
    kept, eliminated = rng.integers(0, 150, 200), rng.integers(0, 60, 200)
    has = request.param
    return crossed(few, kept if has in ("both", "kept") else None, eliminated if has in ("both", "eliminated") else None)


def _matrix(rows: Crossed) -> FloatArray:
    return np.column_stack([rows.predict(column) for column in np.eye(rows.width)])


def test_sums_are_those_of_the_whole_matrix(rows: Crossed) -> None:
    values = np.random.default_rng(2).normal(size=200)
    np.testing.assert_allclose(rows.total(values), _matrix(rows).T @ values, atol=1e-12)


def test_solutions_are_those_of_the_whole_matrix(rows: Crossed) -> None:
    rng = np.random.default_rng(3)
    weights, precision, right = rng.uniform(0, 2, 200), rng.uniform(0.5, 2, rows.width), rng.normal(size=(rows.width, 3))
    whole = _matrix(rows).T @ (weights[:, None] * _matrix(rows)) + np.diag(precision)
    equations = NormalEquations(rows, weights, precision)
    np.testing.assert_allclose(equations.solve(right), np.linalg.solve(whole, right), atol=1e-9)
    few = rows.few.width
    np.testing.assert_allclose(equations.inverse, np.linalg.inv(whole)[:few, :few], atol=1e-9)


def test_levels_may_have_gaps_and_some_rows_may_be_taken() -> None:
    few = Design(np.ones((4, 1)), np.zeros((4, 0), dtype=np.int64))
    rows = crossed(few, np.array([3, 9, 9, 3]), np.array([7, 7, 2, 4]))
    assert (rows.kept_levels, rows.eliminated_levels, rows.width) == (2, 3, 6)
    thin, taken = rows.thinned(2)
    assert taken.tolist() == [0, 1, 2]  # of the levels 2, 4 and 7 the first and the third
    assert (thin.kept_levels, thin.eliminated_levels) == (0, 2)
