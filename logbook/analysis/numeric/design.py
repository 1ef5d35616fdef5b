"""The rows of a regression whose columns are mostly the levels of factors.

Level columns hold one 1 a row, so they are kept as level numbers: sums over rows become counts, and
a hundred thousand rows with some hundred levels need no large matrix.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
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
    ``levels`` says how many levels each factor has. The levels of the last ``walks`` factors follow
    one another, and their columns are the steps that lead from each to the next. ``times`` holds, by a factor's number,
    what its columns have in the place of 1, (rows,): a slope of its own for each level.

    >>> rows = Design(np.ones((3, 1)), np.array([[0], [1], [1]]), (2,))
    >>> rows.dense().tolist()
    [[1.0, 1.0, 0.0], [1.0, 0.0, 1.0], [1.0, 0.0, 1.0]]
    >>> Design(np.ones((2, 1)), np.array([[0], [1]]), (2,), walks=1).dense().tolist()
    [[1.0, 1.0, 0.0], [1.0, 1.0, 1.0]]
    >>> Design(np.ones((2, 1)), np.array([[0], [1]]), (2,), times={0: np.array([0.5, 2.0])}).dense().tolist()
    [[1.0, 0.5, 0.0], [1.0, 0.0, 2.0]]
    """

    covariates: FloatArray
    codes: IntArray
    levels: tuple[int, ...] = ()
    walks: int = 0
    times: Mapping[int, FloatArray] = field(default_factory=dict)

    @property
    def rows(self) -> int:
        """Number of rows."""
        return int(self.covariates.shape[0])

    @property
    def width(self) -> int:
        """Number of columns, covariates and levels together."""
        return int(self.covariates.shape[1]) + sum(self.levels)

    @cached_property
    def starts(self) -> IntArray:
        """First column of each factor."""
        ends = np.cumsum((self.covariates.shape[1], *self.levels))
        return np.asarray(ends[: len(self.levels)], dtype=np.int64)

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
        eta = self.covariates @ coefficients[: self.covariates.shape[1]]
        for factor, codes in enumerate(self.codes.T):
            own = coefficients[self.block(factor)]
            eta += self._timed(factor, (np.cumsum(own) if self._walks(factor) else own)[codes])
        return np.asarray(eta, dtype=np.float64)

    def total(self, values: FloatArray) -> FloatArray:
        """X' values: the sum of each column weighted by ``values`` (rows,)."""
        if self._small is not None:
            return np.asarray(values @ self._small, dtype=np.float64)
        return np.asarray(self.by_level(values, np.zeros(self.rows, dtype=np.int64), 1)[0], dtype=np.float64)

    def by_level(self, values: FloatArray, codes: IntArray, levels: int) -> FloatArray:
        """The sums of ``total`` for each level of a further factor, (levels, width)."""
        if self._small is not None:
            out = np.array([_sums(codes, values * column, levels) for column in self._small.T])
            return np.asarray(out.T, dtype=np.float64)
        out = np.empty((levels, self.width))
        for column, covariate in enumerate(self.covariates.T):
            out[:, column] = _sums(codes, values * covariate, levels)
        for factor, own in enumerate(self.codes.T):
            count = self.levels[factor]
            sums = _sums(codes * count + own, self._timed(factor, values), levels * count).reshape(levels, count)
            out[:, self.block(factor)] = _of_steps(sums) if self._walks(factor) else sums
        return out

    def gram(self, weights: FloatArray) -> FloatArray:
        """X' diag(weights) X, (width, width)."""
        if self._small is not None:
            return np.asarray((self._small * weights[:, None]).T @ self._small, dtype=np.float64)
        count = self.covariates.shape[1]
        out = np.empty((self.width, self.width))
        for column, covariate in enumerate(self.covariates.T):
            out[column] = self.total(weights * covariate)
        for factor, codes in enumerate(self.codes.T):
            times = {number - factor: values for number, values in self.times.items() if number >= factor}
            rest = Design(self.covariates[:, :0], self.codes[:, factor:], self.levels[factor:], self.walks, times)
            sums = rest.by_level(self._timed(factor, weights), codes, self.levels[factor])
            out[self.block(factor), self.starts[factor] :] = _of_steps(sums.T).T if self._walks(factor) else sums
        out[count:, :count] = out[:count, count:].T
        upper = np.triu(out)
        return np.asarray(upper + np.triu(out, 1).T, dtype=np.float64)

    def _walks(self, factor: int) -> bool:
        return factor >= len(self.levels) - self.walks

    def _timed(self, factor: int, values: FloatArray) -> FloatArray:
        return values * self.times[factor] if factor in self.times else values

    def dense(self) -> FloatArray:
        """The whole matrix, (rows, width); for tests and small designs."""
        out = np.zeros((self.rows, self.width))
        out[:, : self.covariates.shape[1]] = self.covariates
        for factor, codes in enumerate(self.codes.T):
            own = out[:, self.block(factor)]
            numbers = np.arange(self.levels[factor])
            own[:] = codes[:, None] >= numbers if self._walks(factor) else codes[:, None] == numbers
            own *= self.times[factor][:, None] if factor in self.times else 1.0
        return out

    def take(self, rows: IntArray) -> Design:
        """The design of some of the rows."""
        times = {number: values[rows] for number, values in self.times.items()}
        return Design(self.covariates[rows], self.codes[rows], self.levels, self.walks, times)


def _sums(codes: IntArray, values: FloatArray, levels: int) -> FloatArray:
    return np.asarray(np.bincount(codes, values, levels), dtype=np.float64)


def _of_steps(sums: FloatArray) -> FloatArray:
    """Sums over the levels of a walk as sums over its steps: a step is in its own level and in all that follow."""
    return np.asarray(np.cumsum(sums[:, ::-1], axis=1)[:, ::-1], dtype=np.float64)
