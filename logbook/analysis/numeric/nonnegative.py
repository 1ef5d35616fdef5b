"""Non-negative least squares."""

from __future__ import annotations

import numpy as np

from logbook.analysis.numeric.arrays import ArrayLike, NDArray

__all__ = ["nonnegative_least_squares"]

Floats = NDArray[np.float64]
Flags = NDArray[np.bool_]


def nonnegative_least_squares(design: ArrayLike, observed: ArrayLike) -> Floats:
    """The b >= 0, shape (k,), that makes the sum of squares of ``observed`` - ``design`` b least.

    ``design`` (n, k), ``observed`` (n,). The active set method of Lawson and Hanson (Solving Least Squares Problems,
    1974, algorithm 23.10): a coefficient leaves 0 while the residual still leans its way, and the others are solved
    again without bounds, stepping back to the first bound that this would cross. Raises ``ValueError`` for shapes
    that do not fit and ``ArithmeticError`` where rounding keeps it from ending.

    >>> nonnegative_least_squares([[1, 0], [0, 1], [1, 1]], [2, -1, 1]).round(9).tolist()
    [1.5, 0.0]
    """
    a, y = np.asarray(design, dtype=np.float64), np.asarray(observed, dtype=np.float64)
    if a.ndim != 2 or y.shape != a.shape[:1]:
        raise ValueError(f"no least squares for a design of shape {a.shape} and observations of shape {y.shape}")
    count = a.shape[1]
    b, free, barred = np.zeros(count), np.zeros(count, dtype=bool), np.zeros(count, dtype=bool)
    lengths = np.sqrt(np.sum(a * a, axis=0))
    small = 10 * np.finfo(np.float64).eps * max(a.shape, default=1) * float(np.sqrt(y @ y))
    for _ in range(30 * count + 1):
        lean = (a.T @ (y - a @ b)) / np.where(lengths > 0.0, lengths, 1.0)
        lean[free | barred] = -np.inf
        if not np.any(lean > small):
            return b
        entering = int(np.argmax(lean))
        moved = _freed(a, y, b, free, entering)
        barred[:] = False if moved else barred
        barred[entering] = not moved
    raise ArithmeticError("non-negative least squares did not end")


def _freed(a: Floats, y: Floats, b: Floats, free: Flags, entering: int) -> bool:
    """Free one more coefficient and solve again (the inner loop), in place; False where rounding alone let it in."""
    free[entering] = True
    trial = _solved(a, y, free)
    if trial[entering] <= 0.0:
        free[entering] = False
        return False
    while np.any(trial[free] <= 0.0):
        below = np.flatnonzero(free & (trial <= 0.0))
        shares = b[below] / (b[below] - trial[below])
        b += shares.min() * np.where(free, trial - b, 0.0)
        free[below[shares <= shares.min() * (1 + 1e-12)]] = False
        b[~free] = 0.0
        trial = _solved(a, y, free)
    b[:] = trial
    return True


def _solved(a: Floats, y: Floats, free: Flags) -> Floats:
    """The least squares solution with the coefficients that are not free at 0."""
    trial = np.zeros(a.shape[1])
    trial[free] = np.linalg.lstsq(a[:, free], y, rcond=None)[0]
    return trial
