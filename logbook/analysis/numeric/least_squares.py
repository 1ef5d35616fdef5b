"""Linear least squares by orthogonal factors, with refinement for columns that nearly depend on each other."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import ArrayLike, NDArray

__all__ = ["LeastSquares", "least_squares"]

Floats = NDArray[np.float64]

#: Corrections after which refinement no longer changes a coefficient in double precision.
REFINEMENTS = 4


@dataclass(frozen=True)
class LeastSquares:
    """A fit y = X b + e: coefficients ``b`` (k,), their covariance for errors of unit variance (k, k), and e (n,)."""

    coefficients: Floats
    unit_covariance: Floats
    residuals: Floats

    @property
    def residual_sd(self) -> float:
        """Residual standard deviation, with n - k degrees of freedom; 0 where there are none."""
        free = len(self.residuals) - len(self.coefficients)
        return float(np.sqrt(self.residuals @ self.residuals / free)) if free > 0 else 0.0

    @property
    def standard_errors(self) -> Floats:
        """Standard errors of the coefficients (k,)."""
        return np.asarray(self.residual_sd * np.sqrt(np.diag(self.unit_covariance)))


def least_squares(design: ArrayLike, observed: ArrayLike) -> LeastSquares:
    """The b that makes the sum of squares of ``observed`` - ``design`` b least.

    ``design`` (n, k) with n >= k and columns that do not depend on each other, ``observed`` (n,). Householder's QR of
    the columns at unit length (Golub 1965, Numerische Mathematik 7, 206-216), then refinement of solution and
    residual together, with their errors worked out in extended precision (Björck 1967, BIT 7, 257-278).
    Raises ``numpy.linalg.LinAlgError`` for dependent columns and ``ValueError`` for shapes that do not fit.

    >>> least_squares([[1, 0], [1, 1], [1, 2]], [1, 3, 5]).coefficients.round(9).tolist()
    [1.0, 2.0]
    """
    x, y = np.asarray(design, dtype=np.float64), np.asarray(observed, dtype=np.float64)
    if x.ndim != 2 or y.shape != x.shape[:1] or x.shape[0] < x.shape[1]:
        raise ValueError(f"no least squares for a design of shape {x.shape} and observations of shape {y.shape}")
    lengths = np.sqrt(np.sum(x * x, axis=0))
    if np.any(lengths == 0.0):
        raise np.linalg.LinAlgError("a column of the design is nothing but zeros")
    q, r = np.linalg.qr(x / lengths)
    if np.min(np.abs(np.diag(r)), initial=1.0) < np.finfo(np.float64).eps:
        raise np.linalg.LinAlgError("columns of the design depend on each other")
    b, e = _refined(x, y, q, r, lengths)
    inverse = np.linalg.solve(r, np.eye(len(r))) / lengths[:, None]
    return LeastSquares(b, inverse @ inverse.T, e)


def _refined(x: Floats, y: Floats, q: Floats, r: Floats, lengths: Floats) -> tuple[Floats, Floats]:
    """Solution and residual of the augmented system e + X b = y, X' e = 0."""
    wide_x, wide_y = x.astype(np.longdouble) / lengths, y.astype(np.longdouble)
    b = np.zeros(x.shape[1], dtype=np.longdouble)
    e = np.zeros(x.shape[0], dtype=np.longdouble)
    for _ in range(1 + REFINEMENTS):
        off_y = np.asarray(wide_y - e - wide_x @ b, dtype=np.float64)
        off_normal = np.asarray(-(wide_x.T @ e), dtype=np.float64)
        inner = np.linalg.solve(r.T, off_normal)
        along = q.T @ off_y
        b = b + np.linalg.solve(r, along - inner)
        e = e + (off_y - q @ along + q @ inner)
    return np.asarray(b / lengths, dtype=np.float64), np.asarray(e, dtype=np.float64)
