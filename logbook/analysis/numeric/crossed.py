"""Normal equations with two factors of many levels each, crossed with one another.

Rows that share neither a level of the first nor one of the second hardly meet, so the second factor's levels are
eliminated one by one (its block is diagonal) and what is left is solved densely: block elimination by the Schur
complement (Golub & Van Loan, Matrix Computations, 4th ed. 2013, sect. 3.2; for mixed models Henderson 1984).
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.cholesky import Cholesky
from logbook.analysis.numeric.design import Design

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True)
class Crossed:
    """A design with few columns, and beside it two factors with many levels.

    ``kept`` and ``eliminated`` are their level numbers, (rows,); a factor with 0 levels is not there. The order of
    coefficients is that of the design, the levels kept, the levels eliminated.

    >>> rows = Crossed(Design(np.ones((3, 1)), np.zeros((3, 0), dtype=np.int64)), np.array([0, 0, 1]), 2)
    >>> rows.predict(np.array([1.0, 0.5, -0.5])).tolist()
    [1.5, 1.5, 0.5]
    """

    few: Design
    kept: IntArray | None = None
    kept_levels: int = 0
    eliminated: IntArray | None = None
    eliminated_levels: int = 0

    @property
    def rows(self) -> int:
        """Number of rows."""
        return self.few.rows

    @property
    def dense_width(self) -> int:
        """Columns that are solved for densely: all but the eliminated levels."""
        return self.few.width + self.kept_levels

    @property
    def width(self) -> int:
        """Number of coefficients."""
        return self.dense_width + self.eliminated_levels

    @property
    def wide_columns(self) -> tuple[IntArray, IntArray]:
        """Columns of the levels kept, and of those eliminated."""
        return np.arange(self.few.width, self.dense_width), np.arange(self.dense_width, self.width)

    def predict(self, coefficients: FloatArray) -> FloatArray:
        """Linear predictor of every row."""
        eta = self.few.predict(coefficients[: self.few.width])
        if self.kept is not None:
            eta += coefficients[self.few.width : self.dense_width][self.kept]
        if self.eliminated is not None:
            eta += coefficients[self.dense_width :][self.eliminated]
        return eta

    def total(self, values: FloatArray) -> FloatArray:
        """X' values: the sum of each column weighted by ``values`` (rows,)."""
        return np.concatenate(
            [
                self.few.total(values),
                _sums(self.kept, values, self.kept_levels),
                _sums(self.eliminated, values, self.eliminated_levels),
            ]
        )

    def thinned(self, part: int) -> tuple[Crossed, IntArray]:
        """Every so many of the eliminated levels, without the levels kept; and the numbers of those rows."""
        some = np.arange(self.rows) if self.eliminated is None else self.eliminated
        rows = np.flatnonzero(some % part == 0)
        return crossed(self.few.take(rows), None, None if self.eliminated is None else self.eliminated[rows]), rows

    @cached_property
    def cells(self) -> tuple[IntArray, IntArray, IntArray]:
        """The pairs of levels that occur: the level kept and the level eliminated of each cell, and each row's cell."""
        nothing = np.zeros(0, dtype=np.int64)
        if self.kept is None or self.eliminated is None:
            return nothing, nothing, nothing
        keys, cell = np.unique(self.eliminated * self.kept_levels + self.kept, return_inverse=True)
        return keys % self.kept_levels, keys // self.kept_levels, cell

    @cached_property
    def meetings(self) -> tuple[IntArray, IntArray]:
        """The pairs of cells that share an eliminated level, each with itself too."""
        _, level, _ = self.cells
        sizes = np.bincount(level, minlength=self.eliminated_levels)
        partners = sizes[level]
        first = np.repeat(np.arange(len(level)), partners)
        begins = np.repeat((np.cumsum(sizes) - sizes)[level], partners)
        return first, begins + np.arange(len(first)) - np.repeat(np.cumsum(partners) - partners, partners)


def crossed(few: Design, kept: IntArray | None, eliminated: IntArray | None) -> Crossed:
    """A design with further factors, whose level numbers may have gaps."""

    def numbered(codes: IntArray | None) -> tuple[IntArray | None, int]:
        if codes is None:
            return None, 0
        levels, place = np.unique(codes, return_inverse=True)
        return place.astype(np.int64), len(levels)

    return Crossed(few, *numbered(kept), *numbered(eliminated))


class NormalEquations:
    """(X' diag(weights) X + diag(precision)) x = b, solved block by block: levels eliminated, levels kept, few columns.

    ``weights`` is (rows,), ``precision`` (width,); positive definite. ``inverse`` is the inverse's block of the few columns.
    """

    def __init__(self, design: Crossed, weights: FloatArray, precision: FloatArray) -> None:
        self._design = design
        few, dense, width = design.few, design.dense_width, design.few.width
        kept, level, cell = design.cells
        self._cell = np.bincount(cell, weights, len(kept)) if len(kept) else np.zeros(0)
        self._lone = _sums(design.eliminated, weights, design.eliminated_levels) + precision[dense:]
        self._beside = _by_level(few, weights, design.eliminated, design.eliminated_levels)
        share = self._cell / self._lone[level]
        at_kept = _by_level(few, weights, design.kept, design.kept_levels)
        for column, beside in enumerate(np.ascontiguousarray(self._beside.T) if len(kept) else ()):
            at_kept[:, column] -= np.bincount(kept, share * beside[level], design.kept_levels)
        self._kept = Cholesky(self._kept_block(weights, precision[width:dense], share))
        self._reach = self._kept.forward(at_kept)
        alone = self._beside / np.sqrt(self._lone)[:, None]
        left = few.gram(weights) - alone.T @ alone - self._reach.T @ self._reach
        self.inverse: FloatArray = np.asarray(np.linalg.inv(left + np.diag(precision[:width])), dtype=np.float64)

    def _kept_block(self, weights: FloatArray, precision: FloatArray, share: FloatArray) -> FloatArray:
        """The block of the levels kept, less what the eliminated levels take from it."""
        design, size, (kept, _, _) = self._design, self._design.kept_levels, self._design.cells
        one, other = design.meetings
        out = -_sums(kept[one] * size + kept[other], share[one] * self._cell[other], size * size)
        out[:: size + 1] += _sums(design.kept, weights, size) + precision
        return np.asarray(out.reshape(size, size), dtype=np.float64)

    def solve(self, right: FloatArray) -> FloatArray:
        """The solution of every column of ``right``, (width, n)."""
        width, dense = self._design.few.width, self._design.dense_width
        lone = right[dense:] / self._lone[:, None]
        kept = self._kept.forward(right[width:dense] - self._from_cells(lone))
        few = self.inverse @ (right[:width] - self._beside.T @ lone - self._reach.T @ kept)
        kept = self._kept.back(kept - self._reach @ few)
        lone -= (self._beside @ few + self._to_cells(kept)) / self._lone[:, None]
        return np.concatenate([few, kept, lone])

    def _to_cells(self, values: FloatArray) -> FloatArray:
        """Values of the levels kept, (kept, n), weighed and summed by the eliminated levels they meet."""
        kept, level, _ = self._design.cells
        out = np.zeros((self._design.eliminated_levels, values.shape[1]))
        for column, one in enumerate(values.T if len(kept) else ()):
            out[:, column] = np.bincount(level, self._cell * one[kept], self._design.eliminated_levels)
        return out

    def _from_cells(self, values: FloatArray) -> FloatArray:
        """Values of the eliminated levels, weighed and summed by the levels kept that they meet."""
        kept, level, _ = self._design.cells
        out = np.zeros((self._design.kept_levels, values.shape[1]))
        for column, one in enumerate(values.T if len(kept) else ()):
            out[:, column] = np.bincount(kept, self._cell * one[level], self._design.kept_levels)
        return out


def _sums(codes: IntArray | None, values: FloatArray, levels: int) -> FloatArray:
    return np.zeros(0) if codes is None else np.bincount(codes, values, levels).astype(np.float64)


def _by_level(few: Design, weights: FloatArray, codes: IntArray | None, levels: int) -> FloatArray:
    return np.zeros((0, few.width)) if codes is None else few.by_level(weights, codes, levels)
