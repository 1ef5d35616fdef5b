"""The darkness of prints as a regression on their settings, their places and the light."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.terms import Terms
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.crossed import Crossed
from logbook.analysis.numeric.design import Design
from logbook.analysis.numeric.interval import Interval, from_normal
from logbook.analysis.numeric.pooled import Fit

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]


@dataclass(frozen=True)
class Depends:
    """The columns by which a setting matters otherwise ``by`` (black or paper): one for each level and each of ``on``.

    The setting is the number of a ``factor`` or of a ``slope``, the other is None.
    """

    factor: int | None
    slope: int | None
    by: str
    on: tuple[str, ...]
    width: int
    """Columns for each level: those of ``on``, and one for all others where there are any."""
    column: int
    """The number of this pair among the design's factors."""


@dataclass(frozen=True)
class Model:
    """The fitted model of the judged prints.

    The few columns of ``design`` are: the constant, the slopes, the light's offset (``light_column``, None where it is not
    known of any print; ``usual_offset`` stands in where it is not known of one), ``since`` each day on which a setting was
    switched for good, the levels of each factor, the pairs of ``depends``, the steps from month to month (``months`` of them in
    all, 0 where there is one month only). Rows after those of the judged prints are further looks at kept ones.
    """

    terms: Terms
    place: Surroundings
    judged: Judged
    design: Crossed
    fit: Fit
    depends: tuple[Depends, ...]
    light_column: int | None
    usual_offset: float
    months: int

    @property
    def few(self) -> Design:
        """The columns of settings, places, light and months."""
        return self.design.few

    @property
    def expected(self) -> FloatArray:
        """Expected darkness of every print, in stops."""
        return self.design.predict(self.fit.theta)[: len(self.judged)]

    @cached_property
    def prints_made(self) -> Design:
        """The rows of the judged prints alone, without further looks."""
        return self.few.take(np.arange(len(self.judged)))

    def linear(self, row: FloatArray) -> tuple[float, float]:
        """Value and standard deviation of row·theta, in stops; ``row`` is (few,) or (width,)."""
        return float(row @ self.fit.theta[: len(row)]), math.sqrt(max(float(self.fit.variances(row[None, :])[0]), 0.0))

    def average(self, of: NDArray[np.bool_] | None = None) -> Interval:
        """Average darkness of the judged prints, or of some, in stops."""
        share = np.zeros(self.design.rows)
        share[: len(self.judged)] = 1.0 if of is None else of
        return from_normal(*self.linear(self.design.total(share / share.sum())))

    def block(self, number: int) -> slice:
        """The columns of a factor's levels."""
        return self.few.block(number)

    @property
    def since(self) -> slice:
        """The columns of what else changed on the day a setting was switched for good."""
        return slice(1 + len(self.terms.slopes) + (self.light_column is not None), self.few.covariates.shape[1])

    @cached_property
    def steps(self) -> slice:
        """The columns of the steps from month to month."""
        return slice(self.few.width - self.months, self.few.width)

    def level_row(self, number: int, level: int) -> FloatArray:
        """What a factor's level adds on the average of the log's blacks and papers: a row, (few,)."""
        return self.level_row_on(number, level, {})

    def level_row_on(self, number: int, level: int, on: Mapping[str, str | None]) -> FloatArray:
        """What a factor's level adds on one black or paper, and on the average of what ``on`` leaves out: a row, (few,)."""
        row = np.zeros(self.few.width)
        row[self.block(number).start + level] = 1.0
        for one in self.depends:
            if one.factor == number:
                start = self.block(one.column).start + level * one.width
                row[start : start + len(one.on)] = self._weights(one, on)
        factor = self.terms.factors[number]
        if factor.name == "paper" and "paper" not in on and level < factor.reported:
            self._add_pairs_of(row, str(factor.levels[level]))
        return row

    def _add_pairs_of(self, row: FloatArray, paper: str) -> None:
        """What the settings, as they are on the average of the log, do otherwise on a paper."""
        for one in self.depends:
            if one.factor is None:  # a slope is counted from its average
                continue
            settings = self.terms.factors[one.factor]
            start = self.block(one.column).start + self.place_of(one, paper)
            row[start : start + settings.width * one.width : one.width] += settings.counts / len(self.judged)

    def place_of(self, one: Depends, paper: str) -> int:
        """Where the black or the paper of prints on a paper stands among a pair's."""
        wanted = paper if one.by == "paper" else self.black_of(paper)
        return one.on.index(wanted) if wanted in one.on else len(one.on)

    def _weights(self, one: Depends, on: Mapping[str, str | None]) -> FloatArray:
        """How much each black or paper of a pair counts: the one given alone, else each by its share of the prints."""
        if one.by in on:
            return np.array([other == on[one.by] for other in one.on], dtype=np.float64)
        codes = self.prints_made.codes[:, one.column] % one.width
        return np.bincount(codes, minlength=one.width)[: len(one.on)] / len(codes)

    def effect_row(self, number: int, level: int) -> FloatArray:
        """The row whose value is the effect of a factor's level against the print-weighted average of its levels."""
        factor = self.terms.factors[number]
        counts = factor.counts[: factor.reported]
        rows = np.array([self.level_row(number, one) for one in range(factor.reported)])
        return np.asarray(rows[level] - counts / counts.sum() @ rows, dtype=np.float64)

    def slope_row(self, number: int, on: Mapping[str, str | None] | None = None) -> FloatArray:
        """The row whose value is a slope, in stops per unit of the setting: on one black or paper, or on the log's average."""
        row = np.zeros(self.few.width)
        row[1 + number] = 1.0
        for one in self.depends:
            if one.slope == number:
                start = self.block(one.column).start
                row[start : start + len(one.on)] = self._weights(one, on or {})
        return row / self.terms.slopes[number].sd

    def black_of(self, paper: str | None) -> str | None:
        """The black that a paper of the log needs."""
        own = self.judged.black[self.judged.paper == paper]
        return str(own[0]) if len(own) else None

    def column_of_picture(self, picture: str | None) -> int | None:
        """The column of what a picture has of its own; None where the log does not tell."""
        rows = np.flatnonzero(self.judged.picture == picture)
        if self.design.eliminated is None or not len(rows):
            return None
        return self.design.dense_width + int(self.design.eliminated[rows[0]])

    def column_of_day(self, day: np.datetime64 | None) -> int | None:
        """The column of what a bench day has of its own; None where the log does not tell."""
        rows = np.flatnonzero(self.judged.day == day) if day is not None else np.zeros(0, dtype=np.int64)
        if self.design.kept is None or not len(rows):
            return None
        return self.few.width + int(self.design.kept[rows[0]])

    @property
    def unshared_variance(self) -> float:
        """Variance of what one picture and one day have of their own, in stops²."""
        return self.spreads["picture"] ** 2 + self.spreads["day"] ** 2

    @cached_property
    def spreads(self) -> dict[str, float]:
        """Standard deviations in stops: of what prints, pictures, days and months share or do not; 0 where none is seen."""
        names = [name for name, there in self._shared if there]
        found = dict(zip(names, self.fit.spreads[len(self.fit.spreads) - len(names) :], strict=True))
        return {"print": self.fit.scale * math.pi / math.sqrt(3)} | {
            name: float(found.get(name, 0.0)) for name, _ in self._shared
        }

    @property
    def _shared(self) -> tuple[tuple[str, bool], ...]:
        return ("month", self.months > 0), ("day", self.design.kept is not None), ("picture", self.design.eliminated is not None)
