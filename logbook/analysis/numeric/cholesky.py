"""A positive definite matrix as L·L', and solving with it, in blocks (Golub & Van Loan, Matrix Computations, 4th ed. 2013,
sect. 3.1 and 4.2): numpy factors but has no triangular solving of its own."""

from __future__ import annotations

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

FloatArray = NDArray[np.float64]

#: Rows solved for together: the products between blocks do nearly all the work.
_BLOCK = 64


class Cholesky:
    """The factor of a positive definite ``matrix`` (n, n); ``numpy.linalg.LinAlgError`` where it is none.

    >>> root = Cholesky(np.array([[4.0, 2.0], [2.0, 3.0]]))
    >>> root.solve(np.array([[8.0], [7.0]])).round(6).tolist()
    [[1.25], [1.5]]
    """

    def __init__(self, matrix: FloatArray) -> None:
        self._lower = np.linalg.cholesky(matrix)
        self._blocks = [slice(at, at + _BLOCK) for at in range(0, len(matrix), _BLOCK)]
        self._corners = [np.linalg.inv(self._lower[block, block]) for block in self._blocks]

    def forward(self, right: FloatArray) -> FloatArray:
        """The y of L·y = right, (n, k)."""
        out = np.empty(right.shape)
        for block, corner in zip(self._blocks, self._corners, strict=True):
            out[block] = corner @ (right[block] - self._lower[block, : block.start] @ out[: block.start])
        return out

    def back(self, right: FloatArray) -> FloatArray:
        """The x of L'·x = right, (n, k)."""
        out = np.empty(right.shape)
        for block, corner in zip(reversed(self._blocks), reversed(self._corners), strict=True):
            out[block] = corner.T @ (right[block] - self._lower[block.stop :, block].T @ out[block.stop :])
        return out

    def solve(self, right: FloatArray) -> FloatArray:
        """The x of matrix·x = right, (n, k)."""
        return self.back(self.forward(right))
