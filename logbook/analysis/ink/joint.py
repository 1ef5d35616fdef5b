"""All rates of all inks together: what the inks have in common pooled, none below 0, as draws from what is left possible."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from itertools import product

import numpy as np

from logbook.analysis.ink.draws import AREA, Column, Kind, kinds_of
from logbook.analysis.ink.evidence import Evidence, evidence
from logbook.analysis.ink.fit import ITS_OWN, InkFit, Spread, Variation
from logbook.analysis.ink.log import Floats, InkLog
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.truncated import truncated_normal

__all__ = ["Joint", "interval_of", "joint"]

DRAWS = 2_000
#: How many values stand for the distribution of a spread.
SPREADS = 5
#: The draws are made in so many parts, each of one option and one spread.
PARTS = 20
#: Before the log is asked (common practice, no source for the figures): by how much more or less than on matte papers
#: all inks go on photo papers, as a share, and by how much that differs from ink to ink.
PHOTO_DIFFERS, INKS_DIFFER = 0.3, (0.03, 0.1, 0.3)
#: The relative spread over the inks of what a day and an idle spell take; None: they take nothing.
ITS_OWN_SPREAD = (None, 0.25, 0.8)
#: How likely it is, before the log is asked, that a printer draws nothing by itself: a sink that is not there makes every
#: rate too low, and one that is shows itself within months.
NOTHING = 0.8
#: The same of a cleaning.
CLEANING, CLEANING_SPREAD = 20.0, 0.5
#: The average by which all inks take more on photo papers; it stands last.
PHOTO: Column = "photo against matte"
#: Standard deviation (ml) of the wide prior of what is not pooled.
ANYTHING = 1e3
#: A spread over the inks is never less than this share of what is usual.
LEAST = 0.02


@dataclass(frozen=True)
class Joint:
    """Draws (n, k) of the rates, by (ink, column), and how likely the printer draws by itself, by column."""

    columns: tuple[tuple[str, Column], ...]
    drawn: Floats
    chance: Mapping[Column, float]

    def of(self, ink: str, column: Column) -> Floats | None:
        """The draws (n,) of one rate; None where no reading touches it."""
        return self.drawn[:, self.columns.index((ink, column))] if (ink, column) in self.columns else None

    def scaled(self, columns: Sequence[Column], factor: Floats) -> Joint:
        """The same with the rates of some columns multiplied by ``factor`` (n,)."""
        own = np.array([column in columns for _, column in self.columns], dtype=bool)
        return replace(self, drawn=np.where(own, self.drawn * factor[:, None], self.drawn))


@dataclass(frozen=True)
class _Option:
    """One idea of how the inks resemble each other: normal ``rows`` (m, k + h) of mean 0 with their ``sd``.

    The last h variables are averages over the inks; ``kept`` (k + h,) are not nothing.
    """

    rows: Floats
    sd: Floats
    kept: NDArray[np.bool_]
    log_prior: float


def interval_of(drawn: Floats) -> Interval:
    """Mean and central 90 % of draws (n,); where fewer than one in twenty is not 0, that is all that is said of them."""
    low, high = np.quantile(drawn, [0.05, 0.95])
    return Interval(float(np.clip(np.mean(drawn), low, high)), float(low), float(high))


def joint(log: InkLog, fits: Mapping[str, InkFit], common: Variation) -> Joint:
    """Draw all rates from their posterior, given what the readings say of each ink and what the inks have in common.

    The readings' likelihood is normal, the rates are >= 0; averages over the inks and the inks' distances from them have
    normal priors (Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, ch. 5). The spreads of these distances, whether the
    printer draws by itself at all, and the spreads of prints and changeovers are averaged over, each with its weight (sect.
    7.4 there: the marginal likelihood). The same log gives the same draws.
    """
    said = evidence(log, fits, common)
    if not said.columns:
        return Joint((), np.zeros((DRAWS, 0)), {})
    rng = np.random.default_rng(len(said.columns))
    averages = _averages(said.columns)
    options = list(_options(fits, said, averages))
    usual = said.information(1.0, 1.0)
    weights = _weights([_log_evidence(usual, option, len(said.columns)) for option in options])
    prints = _quantiles(common.print_factor, 1.0)
    # The two spreads have nothing to do with each other: small ones of one go with small and large ones of the other.
    pairs = zip(_quantiles(common.likely, common.exchanges), [*prints[::2], *prints[1::2]], strict=True)
    seen = [said.information(*pair) for pair in pairs]
    # As many draws of each option as its weight is worth, by even steps over all: every part takes the next spread.
    chosen = np.searchsorted(np.cumsum(weights), (np.arange(PARTS) + 0.5) / PARTS)
    counts = Counter((int(min(option, len(options) - 1)), part % SPREADS) for part, option in enumerate(chosen))
    drawn = [
        _drawn(seen[spread], options[option], len(said.columns), count * DRAWS // PARTS, rng)
        for (option, spread), count in counts.items()
    ]
    chance = {
        column: sum(w for w, option in zip(weights, options, strict=True) if option.kept[len(said.columns) + n])
        for n, column in enumerate(averages)
        if column in ITS_OWN
    }
    return Joint(said.columns, np.vstack(drawn), chance)


def _averages(columns: Sequence[tuple[str, Column]]) -> list[Column]:
    """What the inks are averaged over in: cleanings and the printer's own, then photo against matte."""
    found = dict.fromkeys(column for _, column in columns)
    pooled = [column for column, kind in zip(found, kinds_of(list(found)), strict=True) if kind in (Kind.IDLE, Kind.CLEANINGS)]
    return [*pooled, PHOTO]


def _options(fits: Mapping[str, InkFit], said: Evidence, averages: Sequence[Column]) -> Iterator[_Option]:
    """Every idea of how far the inks differ, and of whether the printer draws by itself."""
    guess = {column: max(said.common_rate(column), LEAST * ITS_OWN.get(column, CLEANING)) for column in averages[:-1]}
    choices = [ITS_OWN_SPREAD if column in averages else (None,) for column in ITS_OWN]
    for photo, spreads in product(INKS_DIFFER, list(product(*choices))):
        chosen = dict(zip(ITS_OWN, spreads, strict=True))
        relative = {column: chosen.get(column, CLEANING_SPREAD) for column in averages[:-1]}
        own = {column: None if spread is None else spread * guess[column] for column, spread in relative.items()}
        yield _option(list(_photo_against_matte(fits, said)), said, own, photo)


def _option(against: Sequence[Floats], said: Evidence, own: Mapping[Column, float | None], photo: float) -> _Option:
    """The rows of one idea: ``own`` is the spread over the inks by column, ``photo`` that of photo ``against`` matte."""
    count = len(said.columns)
    size = count + len(own) + 1
    kept, log_prior = np.ones(size, dtype=bool), 0.0
    rows, sd = [_one(size, size - 1)], [PHOTO_DIFFERS]
    for row in against:
        rows.append(np.concatenate([row, np.zeros(size - count)]) - _one(size, size - 1))
        sd.append(photo)
    for n, (column, spread) in enumerate(own.items(), count):
        places = [place for place, (_, other) in enumerate(said.columns) if other == column]
        if column in ITS_OWN:
            log_prior += math.log(NOTHING if spread is None else (1.0 - NOTHING) / (len(ITS_OWN_SPREAD) - 1))
        if spread is None:
            kept[[n, *places]] = False
            continue
        rows += [_one(size, n), *(_one(size, place) - _one(size, n) for place in places)]
        sd += [ITS_OWN.get(column, CLEANING), *[spread] * len(places)]
    return _Option(np.array(rows), np.array(sd), kept, log_prior)


def _one(size: int, place: int) -> Floats:
    row = np.zeros(size)
    row[place] = 1.0
    return row


def _photo_against_matte(fits: Mapping[str, InkFit], said: Evidence) -> Iterator[Floats]:
    """A row for each ink used on both: by how much more it takes on photo papers, as a share."""
    for ink, fit in fits.items():
        if all((ink, column) in said.columns for column in AREA.values()) and fit.area_rate > 0.0:
            row = np.zeros(len(said.columns))
            row[said.columns.index((ink, AREA["photo"]))] = 1.0 / fit.area_rate
            row[said.columns.index((ink, AREA["matte"]))] = -1.0 / fit.area_rate
            yield row


def _posterior(seen: tuple[Floats, Floats], option: _Option, count: int) -> tuple[Floats, Floats]:
    """Covariance and mean of what is kept, without bounds."""
    precision = (option.rows / option.sd[:, None] ** 2).T @ option.rows
    precision[:count, :count] += seen[0]
    precision[np.arange(count), np.arange(count)] += ANYTHING**-2
    target = np.concatenate([seen[1], np.zeros(len(precision) - count)])
    covariance = np.linalg.inv(precision[np.ix_(option.kept, option.kept)])
    covariance = (covariance + covariance.T) / 2.0
    return covariance, covariance @ target[option.kept]


def _log_evidence(seen: tuple[Floats, Floats], option: _Option, count: int) -> float:
    """Log of the data's density under an option, with its prior and up to a constant; averages are >= 0."""
    covariance, mean = _posterior(seen, option, count)
    target = np.concatenate([seen[1], np.zeros(len(option.kept) - count)])[option.kept]
    log_density = 0.5 * float(target @ mean) + 0.5 * float(np.linalg.slogdet(covariance)[1])
    above = np.flatnonzero(np.flatnonzero(option.kept) >= count)[:-1]
    chances = [math.erfc(-float(mean[place]) / math.sqrt(2.0 * covariance[place, place])) for place in above]
    return option.log_prior + log_density - float(np.sum(np.log(option.sd))) + float(np.sum(np.log(np.maximum(chances, 1e-300))))


def _weights(log_evidence: Sequence[float]) -> Floats:
    found = np.exp(np.array(log_evidence) - np.max(log_evidence))
    return np.asarray(found / np.sum(found))


def _quantiles(spread: Spread | None, unit: float) -> list[float]:
    """As many values, in ``unit``, as ``SPREADS``: the root mean square of each equally likely part of what is possible."""
    if spread is None or not unit:
        return [1.0] * SPREADS
    upto = np.concatenate([[0.0], np.cumsum(spread.weights)])
    squares = np.concatenate([[0.0], np.cumsum(spread.weights * spread.values**2)])
    parts = np.diff(np.interp(np.linspace(0.0, upto[-1], SPREADS + 1), upto, squares)) * SPREADS
    return [float(one) / unit for one in np.sqrt(parts)]


def _drawn(seen: tuple[Floats, Floats], option: _Option, count: int, draws: int, rng: np.random.Generator) -> Floats:
    covariance, mean = _posterior(seen, option, count)
    bounded = np.ones(len(option.kept), dtype=bool)
    bounded[-1] = False  # photo papers may take less as well
    found = np.zeros((draws, len(option.kept)))
    found[:, option.kept] = truncated_normal(mean, covariance, bounded[option.kept], draws, rng)
    return found[:, :count]
