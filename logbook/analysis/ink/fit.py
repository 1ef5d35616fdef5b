"""One ink's rates: its levels as runs of totals, the spread from print to print, and the bounded estimate."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace

import numpy as np

from logbook.analysis.ink.draws import IDLE, SPELL, Column, Draws, Kind, kinds_of
from logbook.analysis.ink.events import POOLED
from logbook.analysis.ink.log import Floats
from logbook.analysis.ink.readings import Stretch, Use
from logbook.analysis.numeric.bounded import bounded_estimate, free_covariance
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.random_walk import (
    Reduced,
    Run,
    Whitened,
    accumulated,
    own_spread,
    reduced,
    relative_spread,
    restricted_deviance,
    rounding_covariance,
    whitened,
)

__all__ = ["ITS_OWN", "InkFit", "Spread", "Variation", "as_run", "first_fits", "fit_again", "fit_steady", "refitted", "steady"]

#: Prints differ in the ink that a square metre of them takes; a relative spread is looked for between these.
LEAST_SPREAD, MOST_SPREAD = 0.02, 3.0
#: The spread before the log has been asked (common practice, no source).
USUAL_SPREAD = 0.25
#: What a printer may well draw by itself of one ink, in ml, a day and after an idle spell (common practice, no source).
ITS_OWN = {IDLE: 0.5, SPELL: 5.0}
#: Cleanings of strengths that had to share a rate differ by a factor of a few (common practice, no source).
POOLED_SPREAD = 0.6


@dataclass(frozen=True)
class Spread:
    """A relative spread that is not known exactly: possible ``values`` (n,) with their ``weights`` (n,), of sum 1."""

    values: Floats
    weights: Floats

    @property
    def usual(self) -> float:
        """The root of the mean square: what stands for it where one figure must."""
        return float(np.sqrt(self.weights @ self.values**2))


@dataclass(frozen=True)
class Variation:
    """Relative spreads of what a print (``prints``) and a changeover (``exchanges``) take, common to all inks.

    ``exchanges_own`` is the part by which changeovers differ in each ink for itself; ``likely`` what ``exchanges``, its
    usual value, may well be, None where it counts as known.
    """

    prints: float
    exchanges: float
    exchanges_own: float = 0.0
    likely: Spread | None = None
    print_factor: Spread | None = None

    def common(self, columns: Sequence[Column]) -> Floats:
        """The common spread of what a draw takes, for each of ``columns`` (k,)."""
        return np.array(
            [self._of(*one, self.exchanges) for one in zip(columns, kinds_of(columns), strict=True)], dtype=np.float64
        )

    def whole(self, columns: Sequence[Column]) -> Floats:
        """The common and the own spread together, for each of ``columns`` (k,)."""
        together = float(np.hypot(self.exchanges, self.exchanges_own))
        return np.array([self._of(*one, together) for one in zip(columns, kinds_of(columns), strict=True)], dtype=np.float64)

    def _of(self, column: Column, kind: int, exchanges: float) -> float:
        pooled = POOLED_SPREAD if POOLED in column else 0.0
        return {Kind.PRINTS: self.prints, Kind.CHANGEOVERS: exchanges, Kind.CLEANINGS: pooled, Kind.IDLE: 0.0}[Kind(kind)]


@dataclass(frozen=True)
class InkFit:
    """One ink's rates, by what drew on it: ml per m² for the area, per day for the printer itself, a piece for the rest.

    ``rates`` (k,) go with ``draws.columns``; ``covariance`` (k, k) is that of the estimates without bounds;
    ``spread`` is the print-to-print standard deviation, in ml per m²; ``data`` is what the readings say of
    all rates; ``series`` is what was
    fitted, ``white`` the same with independent errors.
    Draws whose ink is noted take ``noted`` times what their rate says; the gauge sees ``beyond`` times what prints take.
    """

    draws: Draws
    stretches: tuple[Stretch, ...]
    uses: tuple[Use, ...]
    rates: Floats
    intervals: tuple[Interval, ...]
    covariance: Floats
    spread: float
    data: Reduced | None = None
    series: tuple[Run, ...] = ()
    white: Whitened | None = None
    noted: Mapping[Column, float] = field(default_factory=dict)
    beyond: float = 1.0

    @property
    def telling(self) -> list[Stretch]:
        """The stretches with more than one level; ``series`` are theirs."""
        return [run for run in self.stretches if len(run.percent) > 1]

    def rate(self, column: Column) -> float:
        """The rate for one column, 0 where nothing of the kind drew on this ink."""
        return float(self.rates[self.draws.columns.index(column)]) if column in self.draws.columns else 0.0

    def interval(self, column: Column) -> Interval | None:
        """The rate with its interval; None where the readings do not touch it."""
        if column not in self.draws.columns:
            return None
        found = self.intervals[self.draws.columns.index(column)]
        return found if np.isfinite(found.high) else None

    @property
    def drawn_ml(self) -> Floats:
        """Expected ml of each draw (n,); of prints whose ink is noted this ink's share of that."""
        if not len(self.draws.at):
            return np.zeros(0)
        drawn = self.rates[self.draws.column] * self.draws.amount
        if self.draws.noted is not None:
            noted = np.array([self.noted.get(column, 1.0) for column in self.draws.columns])
            drawn = drawn * np.where(self.draws.noted, noted[self.draws.column], 1.0)
        return np.asarray(drawn)

    @property
    def area_shares(self) -> Floats:
        """What share of the area printed each column (k,) stands for: 0 where it is of another kind."""
        amount = np.bincount(self.draws.column, self.draws.amount, minlength=len(self.draws.columns))
        area = np.where(self.draws.of(Kind.PRINTS), amount, 0.0)
        return np.asarray(area / (np.sum(area) or 1.0))

    @property
    def area_rate(self) -> float:
        """ml per m² of what was printed, whichever black it used."""
        return float(self.area_shares @ self.rates)


def first_fits(levels: Mapping[str, tuple[Draws, Sequence[Stretch], Sequence[Use]]], step: float) -> dict[str, InkFit]:
    """Fits with independent rounding: good enough to tell how much was drawn between readings."""
    bare = {ink: _unfitted(draws, runs, uses) for ink, (draws, runs, uses) in levels.items()}
    fits = refitted(bare, step)
    if not any(POOLED in column for fit in fits.values() for column in fit.draws.columns):
        return fits
    # What differs between cleanings that share a rate is known only in proportion to that rate.
    return refitted(fits, step)


def refitted(fits: Mapping[str, InkFit], step: float) -> dict[str, InkFit]:
    """First fits again, on other stretches."""
    nothing = Variation(0.0, 0.0)
    return _fits({ink: replace(fit, series=_series(fit, step, nothing, again=False)) for ink, fit in fits.items()})


def fit_again(fits: Mapping[str, InkFit], step: float, common: Variation) -> dict[str, InkFit]:
    """Fits in which readings less than a step apart share their rounding, and changeovers differ as they do."""
    return fit_steady(steady(fits, step, common), common)


def steady(fits: Mapping[str, InkFit], step: float, common: Variation) -> dict[str, InkFit]:
    """Fits with their series made again, in which changeovers do not differ yet by what all inks have in common."""
    return {ink: replace(fit, series=_series(fit, step, common, again=True)) for ink, fit in fits.items()}


def fit_steady(fits: Mapping[str, InkFit], common: Variation) -> dict[str, InkFit]:
    """Rates from series that are ``steady``, once changeovers differ as they do."""
    return _fits({ink: _swung(fit, common) for ink, fit in fits.items()})


def _fits(fits: Mapping[str, InkFit]) -> dict[str, InkFit]:
    white = {ink: whitened(fit.series) if fit.series else None for ink, fit in fits.items()}
    scales = {ink: _scale(fit, white[ink]) for ink, fit in fits.items()}
    told = [(data, scales[ink]) for ink, data in white.items() if data is not None and scales[ink] > 0.0 and _tells_spread(data)]
    usual = relative_spread(told, LEAST_SPREAD, MOST_SPREAD) if told else USUAL_SPREAD
    return {ink: _fitted(fit, white[ink], scales[ink], usual) for ink, fit in fits.items()}


def _tells_spread(data: Whitened) -> bool:
    """Whether there are more readings than rates: else the rates fit any readings, and nothing is left to tell a spread."""
    return len(data.observed) > int(np.count_nonzero(np.any(data.design != 0.0, axis=0)))


def _unfitted(draws: Draws, runs: Sequence[Stretch], uses: Sequence[Use]) -> InkFit:
    k = len(draws.columns)
    unknown = tuple(Interval(0.0, 0.0, float("inf")) for _ in range(k))
    return InkFit(draws, tuple(runs), tuple(uses), np.zeros(k), unknown, np.zeros((k, k)), 0.0)


def _series(fit: InkFit, step: float, common: Variation, *, again: bool) -> tuple[Run, ...]:
    runs = fit.telling if fit.draws.columns else []
    return tuple(as_run(run, fit, step, common, again=again) for run in runs)


def _scale(fit: InkFit, data: Whitened | None) -> float:
    """A first idea of the ml per m², which the spread is relative to."""
    if data is None or not np.any(fit.draws.of(Kind.PRINTS)):
        return 0.0
    return fit.area_rate or float(fit.area_shares @ bounded_estimate(_modest(fit, reduced(data, 0.0))))


def _modest(fit: InkFit, data: Reduced) -> Reduced:
    """What the data say, with a prior against taking for the printer's own what prints may have drawn.

    A tighter prior makes the first rates of prints too high, and the wrong readings then share their rounding.
    """
    own = [n for n, column in enumerate(fit.draws.columns) if column in ITS_OWN]
    rows = np.zeros((len(own), len(fit.draws.columns)))
    rows[range(len(own)), own] = [1.0 / ITS_OWN[fit.draws.columns[n]] for n in own]
    return Reduced(np.vstack([data.triangle, rows]), np.concatenate([data.target, np.zeros(len(rows))]), data.rows)


def _fitted(fit: InkFit, data: Whitened | None, scale: float, usual: float) -> InkFit:
    if data is None:
        return fit
    spread = scale * own_spread(data, scale, usual, LEAST_SPREAD, MOST_SPREAD) if scale else 0.0
    said = reduced(data, spread**2)
    rest = _modest(fit, said)
    found = replace(fit, rates=bounded_estimate(rest), covariance=free_covariance(rest), spread=spread)
    return replace(found, data=said, white=data)


def _swung(fit: InkFit, common: Variation) -> InkFit:
    """The fit with changeovers in its series that differ by what they have in common."""
    exchange = fit.draws.of(Kind.CHANGEOVERS)
    square = (common.exchanges * fit.rates[exchange]) ** 2
    runs = (replace(run, known=run.known + accumulated(run.design[:, exchange] @ square)) for run in fit.series)
    return replace(fit, series=tuple(runs))


def as_run(run: Stretch, fit: InkFit, step: float, common: Variation, *, again: bool) -> Run:
    """A stretch of levels as a run of totals with its error covariances, in ml²; ``again``: given a first fit.

    What changeovers differ by in common makes the totals less sure of where rounding falls; the run's errors do not
    include it yet.
    """
    totals, squares = run.totals(fit.draws), run.squares(fit.draws)
    area = fit.draws.of(Kind.PRINTS)
    walk = squares[:, area].sum(axis=1)
    swings, own = (
        totals[:, ~area] @ (vary.whole(fit.draws.columns) * fit.rates)[~area] ** 2
        for vary in (common, replace(common, exchanges=0.0))
    )
    step_ml = step * run.ml_per_percent
    if again:
        rows = np.vstack([np.zeros(len(area)), totals])
        wandered = np.concatenate([[0.0], fit.spread**2 * walk + swings])
        unsure = np.abs(np.subtract.outer(wandered, wandered)) + _apart(rows, fit.covariance)
        rounding = rounding_covariance(rows @ fit.rates, unsure, step_ml)
    else:
        rounding = np.eye(len(totals) + 1) * step_ml**2 / 12.0
    known = rounding[1:, 1:]
    if not run.exact:
        known = known - rounding[1:, :1] - rounding[:1, 1:] + rounding[0, 0]
    return Run(totals, run.drawn_ml(), known + accumulated(own), accumulated(walk))


def _apart(totals: Floats, covariance: Floats) -> Floats:
    """Variance (n, n) of the difference between what the rates make of two rows of totals."""
    product = totals @ covariance @ totals.T
    own = np.diag(product)
    return np.asarray(np.maximum(np.add.outer(own, own) - 2 * product, 0.0))


#: Spreads of prints that are tried, as shares of the likeliest.
TRIED_SHARES = np.geomspace(0.3, 4.0, 40)


def print_factor(fits: Mapping[str, InkFit], common: Variation) -> Spread | None:
    """How far the spread from print to print may well lie from the one that was fitted, as a factor.

    Inks whose prints deviate alike say the same: of n inks whose deviations correlate by r as many count as
    n / (1 + (n - 1) r^2), for that is the correlation of their squares.
    """
    told = [(fit.white, fit.spread, fit.area_rate) for fit in fits.values() if fit.white is not None and fit.spread > 0.0]
    if not told:
        return None
    alike = np.mean([min(1.0, (common.prints * rate / spread) ** 2) for _, spread, rate in told])
    count = min(len(told) / (1.0 + (len(told) - 1) * float(alike) ** 2), 2.0)
    worse = np.array(
        [sum(restricted_deviance(data, (share * spread) ** 2) for data, spread, _ in told) for share in TRIED_SHARES]
    )
    # Flat in the spread itself, not in its logarithm (Gelman 2006, Bayesian Analysis 1, 515-533); the grid is geometric.
    density = TRIED_SHARES * np.exp(-0.5 * (worse - np.min(worse)) * count / len(told))
    return Spread(TRIED_SHARES, density / np.sum(density))
