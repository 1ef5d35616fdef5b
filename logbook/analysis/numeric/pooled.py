"""A regression on values known only between bounds, with coefficients in groups: what is asked, and what is found.

Model: z = X·theta + scale·e, e logistic, and low < z <= high is all that is known of z: grouped-data regression
(Stewart 1983, Rev. Econ. Stud. 50, 737-753). Groups of coefficients share a normal prior around 0 whose spread is learnt.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.crossed import Crossed, NormalEquations

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True)
class Bounds:
    """What is known of each row: it lies in (low, high]; both (rows,)."""

    low: FloatArray
    high: FloatArray

    @property
    def middles(self) -> FloatArray:
        """The middle of each row's bounds; of an open one its end."""
        low = np.where(np.isfinite(self.low), self.low, self.high)
        high = np.where(np.isfinite(self.high), self.high, self.low)
        return np.asarray((low + high) / 2, dtype=np.float64)


@dataclass(frozen=True)
class Prior:
    """Normal prior of every coefficient: ``centre`` and ``precision`` (0: none), (width,)."""

    centre: FloatArray
    precision: FloatArray

    def log_density(self, theta: FloatArray) -> float:
        """Log prior without its constant."""
        return float(-0.5 * np.sum(self.precision * (theta - self.centre) ** 2))


@dataclass(frozen=True)
class SpreadPrior:
    """What is believed of a spread before the data: as if ``levels`` levels had already shown one
    as small as the data could just see, ``standard_errors`` of the average of all rows.

    A scaled inverse chi-square on the squared spread. It keeps the estimate off zero, where
    intervals would claim certainty, by an amount that shrinks as prints gather (the reasoning of
    Chung et al. 2013, Psychometrika 78, 685-709). Groups of one or two members, which cannot teach a spread,
    are left nearly as the data have them; groups of many are hardly touched by it. Its other end falls off like a
    normal curve of sd ``widest`` (the unit of the bounds), so that rows at the open ends cannot carry it to infinity.
    """

    standard_errors: float = 5.0
    levels: float = 0.25
    widest: float = np.inf

    def spread(self, s: float, rows: float) -> float:
        """The spread believed in on so many ``rows``; ``s`` is the log of the scale of their logistic errors.

        >>> round(SpreadPrior(1.0).spread(0.0, 100.0), 4)
        0.1814
        """
        return float(self.standard_errors * np.exp(s) * np.pi / np.sqrt(3 * rows))


@dataclass(frozen=True)
class ScalePrior:
    """Normal prior of the log of the error's scale, and the least scale there can be (in the unit of the bounds).

    It matters where rows fall so that a smaller scale always fits as well: few rows, or hardly any that differ.
    """

    centre: float
    sd: float
    least: float = 1e-6


@dataclass(frozen=True)
class Pooled:
    """What is to be fitted: the rows, and what is believed of the coefficients before them.

    ``base`` is the prior of the design's few columns; each of ``groups`` (numbers of such columns) shares a spread
    instead. The levels kept and eliminated share one each, which come after those.
    """

    design: Crossed
    bounds: Bounds
    base: Prior
    groups: Sequence[IntArray]
    scale_prior: ScalePrior
    spread_prior: SpreadPrior = SpreadPrior()

    @property
    def all_groups(self) -> list[IntArray]:
        """The columns of every group, those of many levels last."""
        return [*self.groups, *(one for one in self.design.wide_columns if len(one))]

    def prior(self, spreads: FloatArray) -> Prior:
        """The prior of all coefficients at some spreads."""
        further = np.zeros(self.design.width - len(self.base.centre))
        precision = np.concatenate([self.base.precision, further])
        for group, spread in zip(self.all_groups, spreads, strict=True):
            precision[group] = spread**-2
        return Prior(np.concatenate([self.base.centre, further]), precision)

    def thinned(self) -> Pooled:
        """The same of some of the rows only, as a start: every so many of the levels eliminated, without those kept."""
        design, rows = self.design.thinned(1 + self.design.rows // 1000)
        bounds = Bounds(self.bounds.low[rows], self.bounds.high[rows])
        return Pooled(design, bounds, self.base, self.groups, self.scale_prior, self.spread_prior)


@dataclass(frozen=True)
class Fit:
    """The posterior: coefficients, the log of the scale, the spreads of the groups, and what is not known of them.

    ``normal`` holds the precision of the coefficients at the fitted spreads, ``doubt`` (few, few) what not knowing the
    spreads adds: the covariance is C + C·doubt·C, C the inverse of that precision. ``covariance`` is that of the
    design's few columns, ``s_variance`` that of the log scale, ``known`` how many levels of each group the rows determine.
    """

    theta: FloatArray
    s: float
    spreads: FloatArray
    known: FloatArray
    normal: NormalEquations
    doubt: FloatArray
    covariance: FloatArray
    s_variance: float
    loglik: float
    steps: int

    @property
    def scale(self) -> float:
        """Scale of the logistic errors, in the unit of the bounds."""
        return float(np.exp(self.s))

    def variances(self, rows: FloatArray) -> FloatArray:
        """Variance of row·theta for every row; ``rows`` is (n, width), or (n, few) where all further columns are 0."""
        few = len(self.doubt)
        if rows.shape[1] == few:
            return np.asarray(np.einsum("ij,jk,ik->i", rows, self.covariance, rows), dtype=np.float64)
        reach = self.normal.solve(rows.T)
        widened = np.einsum("ji,jk,ki->i", reach[:few], self.doubt, reach[:few])
        return np.asarray(np.einsum("ij,ji->i", rows, reach) + widened, dtype=np.float64)
