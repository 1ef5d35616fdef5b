"""Non-negative least squares at its edges."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays

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
