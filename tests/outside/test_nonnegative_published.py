"""Non-negative least squares against the book, a textbook example and a second implementation."""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import nnls

from logbook.analysis.numeric.nonnegative import nonnegative_least_squares


def test_the_line_fit_of_lawson_and_hanson() -> None:
    """Solving Least Squares Problems (1974), ch. 23, sect. 7: a line with both coefficients >= 0, of sum <= 1.

    The book turns it into a least distance problem, solved by one run of NNLS (algorithms 23.17 and 23.27).
    """
    e = np.array([[0.25, 1.0], [0.5, 1.0], [0.5, 1.0], [0.8, 1.0]])
    f = np.array([0.5, 0.6, 0.7, 1.2])
    g = np.array([[1.0, 0.0], [0.0, 1.0], [-1.0, -1.0]])
    h = np.array([0.0, 0.0, -1.0])
    q, r = np.linalg.qr(e)
    turned = np.linalg.solve(r.T, g.T).T  # G R^-1
    shifted = h - turned @ (q.T @ f)
    dual = np.vstack([turned.T, shifted])
    u = nonnegative_least_squares(dual, np.array([0.0, 0.0, 1.0]))
    rest = np.array([0.0, 0.0, 1.0]) - dual @ u
    z = -rest[:2] / rest[2]
    x = np.linalg.solve(r, z + q.T @ f)
    assert x == pytest.approx([0.621315, 0.378685], abs=5e-7)
    assert np.linalg.norm(e @ x - f) == pytest.approx(0.338229, abs=5e-7)
    assert np.linalg.lstsq(e, f, rcond=None)[0] == pytest.approx([1.30041, 0.08354], abs=5e-6)  # the book's, without bounds


def test_the_example_of_a_numerical_toolbox() -> None:
    """A 4 × 2 example that manuals of numerical packages print: unbounded (-2.5627, 3.1108), bounded (0, 0.6929)."""
    c = np.array([[0.0372, 0.2869], [0.6861, 0.7071], [0.6233, 0.6245], [0.6344, 0.6170]])
    d = np.array([0.8587, 0.1781, 0.0747, 0.8405])
    x = nonnegative_least_squares(c, d)
    assert x == pytest.approx([0.0, 0.6929], abs=5e-5)
    assert np.linalg.norm(c @ x - d) == pytest.approx(0.9118, abs=5e-5)
    assert np.linalg.lstsq(c, d, rcond=None)[0] == pytest.approx([-2.5627, 3.1108], abs=5e-5)


@pytest.mark.parametrize("kind", ["any", "positive", "wide", "dependent"])
def test_random_systems_as_scipy_solves_them(kind: str) -> None:
    rng = np.random.default_rng(1974)
    for _ in range(200):
        rows, columns = int(rng.integers(1, 30)), int(rng.integers(1, 10))
        a = rng.normal(size=(rows, columns))
        if kind == "positive":
            a = np.abs(a)
        if kind == "wide":
            a = a * 10.0 ** rng.integers(-4, 5, size=columns)
        if kind == "dependent" and columns > 1:
            a[:, -1] = a[:, 0] + a[:, columns // 2]
        y = rng.normal(size=rows)
        x = nonnegative_least_squares(a, y)
        _, misfit = nnls(a, y)
        assert np.all(x >= 0.0)
        assert np.linalg.norm(a @ x - y) == pytest.approx(misfit, rel=1e-9, abs=1e-9)
