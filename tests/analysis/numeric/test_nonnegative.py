"""Non-negative least squares at its edges."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from scipy import optimize

from logbook.analysis.numeric.nonnegative import nonnegative_least_squares

VALUES = st.floats(-100, 100).map(lambda value: round(value, 3))


@given(arrays(float, (6, 3), elements=VALUES), arrays(float, 6, elements=VALUES))
def test_the_conditions_of_kuhn_and_tucker_hold(design: np.ndarray, observed: np.ndarray) -> None:
    b = nonnegative_least_squares(design, observed)
    lean = design.T @ (observed - design @ b)
    scale = 1e-8 * max(1.0, float(np.abs(design).max()) * float(np.linalg.norm(observed)))
    assert np.all(b >= 0)
    assert np.all(lean <= scale)
    assert np.all(np.abs(lean[b > 0]) <= scale)


def test_nothing_to_fit() -> None:
    assert nonnegative_least_squares(np.zeros((3, 0)), [1, 2, 3]).shape == (0,)
    assert nonnegative_least_squares(np.zeros((0, 2)), []).tolist() == [0.0, 0.0]
    assert nonnegative_least_squares([[0.0, 1.0]], [2.0]).tolist() == [0.0, 2.0]


def test_shapes_that_do_not_fit_are_refused() -> None:
    with pytest.raises(ValueError, match="shape"):
        nonnegative_least_squares([[1.0]], [1.0, 2.0])


def test_columns_that_push_one_another_out_end_where_scipys_do() -> None:
    """Columns that lean the same way: many enter and leave again before the last set is found."""
    rng = np.random.default_rng(5)
    for _ in range(150):
        design = np.abs(rng.normal(size=(9, 6))) + np.abs(rng.normal(size=(9, 1)))
        observed = rng.normal(size=9) + design @ np.maximum(rng.normal(size=6), 0.0)
        expected, _ = optimize.nnls(design, observed)
        assert nonnegative_least_squares(design, observed) == pytest.approx(expected, abs=1e-8)


def test_the_unit_of_a_column_does_not_matter() -> None:
    rng = np.random.default_rng(6)
    design, unit = np.abs(rng.normal(size=(9, 4))), np.array([1e-7, 1.0, 10.0, 0.1])
    observed = design @ np.array([1.0, 2.0, 0.0, 3.0]) + 0.1 * rng.normal(size=9)
    plain = nonnegative_least_squares(design, observed)
    assert nonnegative_least_squares(design * unit, observed) * unit == pytest.approx(plain, abs=1e-6)
    assert (plain[[0, 1, 3]] > 0.5).all()
