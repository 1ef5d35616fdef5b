"""The darkness of prints as a regression on their settings, their places and the light."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from logbook.analysis.darkness.light import Surroundings, offsets
from logbook.analysis.darkness.rating import EXTREME
from logbook.analysis.darkness.terms import Factor, Terms
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.design import Design, group_rows
from logbook.analysis.numeric.grouped import logistic
from logbook.analysis.numeric.interval import Z90, Interval, from_normal
from logbook.analysis.numeric.interval_regression import Bounds, Fit, Prior
from logbook.analysis.numeric.pooling import ScalePrior, SpreadPrior, fit_pooled
from logbook.records import long_work

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
TextArray = NDArray[np.object_]

#: A rating of -1 third or less is darker: the seen difference lies below this many stops.
DARKER_BELOW = -0.5 / 3
#: Prints alike in everything noted still differ: by a fifth of a stop, known to a factor of three at most (a logistic
#: scale, 95 %), and never by less than a thirtieth: ratings are read in thirds.
SCATTER = ScalePrior(math.log(0.2), 0.5, 0.03)
#: The scale of ratings ends at two stops: no setting moves prints by much more than one.
SPREADS = SpreadPrior(widest=1.0)
#: Nor does the average lie far beyond the scale; weaker than one print.
AVERAGE_SD = 2.0
#: The slope on the offset of the light: one stop more light, one stop lighter (Lambert), give or take.
LIGHT_SLOPE, LIGHT_SLOPE_SD = 1.0, 0.5


@dataclass(frozen=True)
class Judged:
    """The judged prints, all columns (prints,): ``rating`` in thirds of a stop, ids, one map of settings each."""

    rating: IntArray
    paper: TextArray
    screen: TextArray
    light: TextArray
    settings: list[dict[str, str | bool | int | float]]

    def __len__(self) -> int:
        return len(self.rating)


def rating_bounds(rating: IntArray) -> tuple[FloatArray, FloatArray]:
    """What a rating says of the seen difference, in stops: it lies in (low, high].

    >>> [part.tolist() for part in rating_bounds(np.array([-6, 6]))]
    [[-inf, 1.8333333333333333], [-1.8333333333333333, inf]]
    """
    low = np.where(rating <= -EXTREME, -np.inf, (rating - 0.5) / 3)
    high = np.where(rating >= EXTREME, np.inf, (rating + 0.5) / 3)
    return low, high


@dataclass(frozen=True)
class Model:
    """The fitted model. Rows are groups of prints alike in rating and settings, ``count`` prints each.

    ``light``, ``screen`` and ``paper`` are the groups' places; ``light_column`` is the column of the light's
    offset, None where it is not known of any print; ``usual_offset`` stands in where it is not known.
    """

    terms: Terms
    place: Surroundings
    design: Design
    rating: IntArray
    count: FloatArray
    fit: Fit
    light: TextArray
    screen: TextArray
    paper: TextArray
    light_column: int | None
    usual_offset: float

    @property
    def prints(self) -> int:
        """Number of judged prints."""
        return int(self.count.sum())

    @cached_property
    def expected(self) -> FloatArray:
        """Expected darkness of every group, in stops."""
        return self.design.predict(self.fit.theta)

    def linear(self, row: FloatArray) -> tuple[float, float]:
        """Value and standard deviation of row·theta, in stops; ``row`` is (width,)."""
        spread = float(row @ self.fit.coefficient_covariance @ row)
        return float(row @ self.fit.theta), math.sqrt(max(spread, 0.0))

    def average(self) -> Interval:
        """Average darkness of the judged prints, in stops."""
        return from_normal(*self.linear(self.design.total(self.count) / self.prints))

    def effect_row(self, number: int, level: int) -> FloatArray:
        """The row whose value is the effect of a factor's level against the print-weighted average of its levels."""
        factor = self.terms.factors[number]
        counts = factor.counts[: factor.reported]
        row = np.zeros(self.design.width)
        block = row[self.design.block(number)]
        block[: factor.reported] = -counts / counts.sum()
        block[level] += 1.0
        return row

    def slope_row(self, number: int) -> FloatArray:
        """The row whose value is a slope, in stops per unit of the setting."""
        row = np.zeros(self.design.width)
        row[1 + number] = 1 / self.terms.slopes[number].sd
        return row

    def chance_darker(self, number: int, level: int) -> Interval:
        """Chance of a rating of -1 or less, averaged over the prints with a factor put to a level."""
        factor = self.terms.factors[number]
        block = self.design.block(number)
        eta = self.expected + self.fit.theta[block][level]
        eta -= self.fit.theta[self.design.places[number]]
        offset = self._offset_with(factor, level)
        if offset is not None and self.light_column is not None:
            before = self.design.covariates[:, self.light_column]
            eta += self.fit.theta[self.light_column] * (offset - before)
        return self._chance(eta, block, level, offset)

    def chance_of(self, row: FloatArray) -> Interval:
        """Chance of a rating of -1 or less for one print, ``row`` (width,)."""
        reach = (DARKER_BELOW - float(row @ self.fit.theta)) / self.fit.scale
        chance = float(logistic(np.array(reach)))
        slope = chance * (1 - chance)
        return self._chance_interval(chance, np.append(-slope / self.fit.scale * row, -slope * reach))

    def _offset_with(self, factor: Factor, level: int) -> FloatArray | None:
        """The light's offset of every group with a place put to a level; None where it stays."""
        if self.light_column is None or factor.name not in ("light", "screen", "paper"):
            return None
        kinds, kind_of = self._places
        columns = dict(zip(("light", "screen", "paper"), kinds, strict=True))
        columns[factor.name] = np.full(len(kinds[0]), factor.levels[level], dtype=object)
        seen = offsets(self.place, columns["light"], columns["screen"], columns["paper"])
        return np.where(np.isnan(seen), self.usual_offset, seen)[kind_of]

    @cached_property
    def _places(self) -> tuple[tuple[TextArray, TextArray, TextArray], IntArray]:
        """The distinct combinations of light, screen and paper, and the one of every group."""
        number: dict[tuple[str | None, str | None, str | None], int] = {}
        codes = [number.setdefault(one, len(number)) for one in zip(self.light, self.screen, self.paper, strict=True)]
        kinds = np.empty((3, len(number)), dtype=object)
        for place, one in enumerate(number):
            kinds[:, place] = one
        return (kinds[0], kinds[1], kinds[2]), np.array(codes, dtype=np.int64)

    def _chance(self, eta: FloatArray, block: slice, level: int, offset: FloatArray | None) -> Interval:
        reach = (DARKER_BELOW - eta) / self.fit.scale
        each = logistic(reach)
        weight = self.count / self.prints
        slope = weight * each * (1 - each)
        by_theta = self.design.total(-slope / self.fit.scale)
        by_theta[block] = 0.0
        by_theta[block.start + level] = -slope.sum() / self.fit.scale
        if offset is not None and self.light_column is not None:
            by_theta[self.light_column] = -slope @ offset / self.fit.scale
        return self._chance_interval(float(weight @ each), np.append(by_theta, -slope @ reach))

    def _chance_interval(self, chance: float, gradient: FloatArray) -> Interval:
        """By the delta method on the log odds, so that the ends stay between 0 and 1."""
        chance = min(max(chance, 1e-9), 1 - 1e-9)
        sd = math.sqrt(max(float(gradient @ self.fit.covariance @ gradient), 0.0))
        odds, half = math.log(chance / (1 - chance)), Z90 * sd / (chance * (1 - chance))
        ends = logistic(np.array([odds - half, odds + half]))
        return Interval(chance, float(ends[0]), float(ends[1]))


def fit_model(judged: Judged, terms: Terms, place: Surroundings) -> Model:
    """Fit the model; ``ArithmeticError`` where the prints do not determine it."""
    long_work.step(f"comparing the settings of {len(judged):,} prints")
    seen = offsets(place, judged.light, judged.screen, judged.paper)
    known = np.isfinite(seen)
    usual = float(seen[known].mean()) if known.any() else 0.0
    columns = [np.ones(len(judged)), *(one.scaled for one in terms.slopes)]
    if known.any():
        columns.append(np.where(known, seen, usual))
    codes = [factor.codes for factor in terms.factors]
    all_rows = Design(
        np.column_stack(columns),
        np.column_stack(codes) if codes else np.zeros((len(judged), 0), dtype=np.int64),
        tuple(factor.width for factor in terms.factors),
    )
    first, count, _ = group_rows(all_rows, judged.rating)
    design, rating = all_rows.take(first), judged.rating[first]
    light_column = len(columns) - 1 if known.any() else None
    fit = _fit(design, rating, count.astype(np.float64), len(terms.slopes), light_column)
    places = judged.light[first], judged.screen[first], judged.paper[first]
    return Model(terms, place, design, rating, count.astype(np.float64), fit, *places, light_column, usual)


def _fit(design: Design, rating: IntArray, count: FloatArray, slopes: int, light_column: int | None) -> Fit:
    centre, precision = np.zeros(design.width), np.zeros(design.width)
    precision[0] = AVERAGE_SD**-2
    if light_column is not None:
        centre[light_column], precision[light_column] = LIGHT_SLOPE, LIGHT_SLOPE_SD**-2
    groups = [np.array([1 + number]) for number in range(slopes)]
    for number in range(len(design.levels)):
        block = design.block(number)
        groups.append(np.arange(block.start, block.stop))
    try:
        return fit_pooled(design, Bounds(*rating_bounds(rating), count), Prior(centre, precision), groups, SCATTER, SPREADS)
    except np.linalg.LinAlgError as error:
        raise ArithmeticError("the settings cannot be told apart on these prints") from error
