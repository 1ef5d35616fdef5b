"""The rows of a regression whose columns are mostly the levels of factors.

Level columns hold one 1 a row, so they are kept as level numbers: sums over rows become counts, and
a hundred thousand rows with some hundred levels need no large matrix.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

#: Up to so many cells the matrix itself is multiplied.
_SMALL = 500_000


@dataclass(frozen=True)
class Design:
    """Covariate columns first, then one column for each level of each factor.

    ``covariates`` is (rows, c), ``codes`` is (rows, factors) with level numbers from 0,
    ``levels`` says how many levels each factor has.

    >>> rows = Design(np.ones((3, 1)), np.array([[0], [1], [1]]), (2,))
    >>> rows.dense().tolist()
    [[1.0, 1.0, 0.0], [1.0, 0.0, 1.0], [1.0, 0.0, 1.0]]
    """

    covariates: FloatArray
    codes: IntArray
    levels: tuple[int, ...] = ()

    @property
    def rows(self) -> int:
        """Number of rows."""
        return int(self.covariates.shape[0])

    @property
    def width(self) -> int:
        """Number of columns: covariates and levels together."""
        return int(self.covariates.shape[1]) + sum(self.levels)

    @cached_property
    def starts(self) -> IntArray:
        """First column of each factor."""
        ends = np.cumsum((self.covariates.shape[1], *self.levels))
        return np.asarray(ends[: len(self.levels)], dtype=np.int64)

    @cached_property
    def places(self) -> IntArray:
        """Column of every row's level, (factors, rows)."""
        return np.ascontiguousarray((self.codes + self.starts).T)

    def block(self, factor: int) -> slice:
        """Columns of one factor."""
        start = int(self.starts[factor])
        return slice(start, start + self.levels[factor])

    @cached_property
    def _small(self) -> FloatArray | None:
        """The whole matrix where it is small enough to be the faster way."""
        return self.dense() if self.rows * self.width <= _SMALL else None

    def predict(self, coefficients: FloatArray) -> FloatArray:
        """Linear predictor of every row."""
        if self._small is not None:
            return np.asarray(self._small @ coefficients, dtype=np.float64)
        share = self.covariates.shape[1]
        eta = self.covariates @ coefficients[:share]
        for places in self.places:
            eta += coefficients[places]
        return np.asarray(eta, dtype=np.float64)

    def total(self, values: FloatArray) -> FloatArray:
        """X' values: the sum of each column weighted by ``values`` (rows,)."""
        if self._small is not None:
            return np.asarray(values @ self._small, dtype=np.float64)
        out = np.zeros(self.width)
        out[: self.covariates.shape[1]] = values @ self.covariates
        for factor, places in enumerate(self.places):
            at = self.block(factor)
            out[at] = np.bincount(places - at.start, values, self.levels[factor])
        return out

    def gram(self, weights: FloatArray) -> FloatArray:
        """X' diag(weights) X, (width, width)."""
        if self._small is not None:
            return np.asarray((self._small * weights[:, None]).T @ self._small, dtype=np.float64)
        count = self.covariates.shape[1]
        weighted = self.covariates * weights[:, None]
        out = (
            np.bincount(self._pairs.ravel(), np.tile(weights, len(self._pairs)), self.width**2)
            .astype(np.float64)
            .reshape(self.width, self.width)
        )
        for column in range(count):
            out[column] = self.total(weighted[:, column])
        upper = np.triu(out)
        return np.asarray(upper + np.triu(out, 1).T, dtype=np.float64)

    @cached_property
    def _pairs(self) -> IntArray:
        factors = len(self.levels)
        pairs = [self.places[a] * self.width + self.places[b] for a in range(factors) for b in range(a, factors)]
        return np.array(pairs, dtype=np.int64).reshape(len(pairs), self.rows)

    def dense(self) -> FloatArray:
        """The whole matrix, (rows, width); for tests and small designs."""
        out = np.zeros((self.rows, self.width))
        out[:, : self.covariates.shape[1]] = self.covariates
        for places in self.places:
            out[np.arange(self.rows), places] = 1.0
        return out

    def take(self, rows: IntArray) -> Design:
        """The design of some of the rows."""
        return Design(self.covariates[rows], self.codes[rows], self.levels)


def group_rows(design: Design, outcome: IntArray) -> tuple[IntArray, IntArray, IntArray]:
    """Equal rows put together: (first row of each group, its count, group of every row).

    Rows are equal when covariates, levels and ``outcome`` (rows,) all are.

    >>> rows = Design(np.ones((3, 1)), np.array([[0], [1], [1]]), (2,))
    >>> [part.tolist() for part in group_rows(rows, np.array([4, 5, 5]))]
    [[0, 1], [1, 2], [0, 1, 1]]
    """
    key = np.zeros(design.rows, dtype=np.int64)
    for column in (outcome, *design.codes.T, *design.covariates.T):
        _, code = np.unique(column, return_inverse=True)
        _, key = np.unique(key * (int(code.max(initial=0)) + 1) + code, return_inverse=True)
    _, first, group, counts = np.unique(key, return_index=True, return_inverse=True, return_counts=True)
    return first, counts, group
