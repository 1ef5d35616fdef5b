"""How prints, and changeovers, vary in common over all inks: what makes a total less sure than its parts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from logbook.analysis.ink.draws import Kind
from logbook.analysis.ink.events import POOLED
from logbook.analysis.ink.fit import InkFit, Variation
from logbook.analysis.ink.log import Floats, black_of
from logbook.analysis.numeric.nonnegative import nonnegative_least_squares
from logbook.analysis.numeric.random_walk import rounded_difference

__all__ = ["variation"]

#: Of fewer changeovers than this between readings of one kind nothing can be said about how they differ.
FEWEST_EXCHANGES = 3
#: Squared spread of changeovers, in common over all inks, where the log does not tell (common practice, no source).
LIKELY_EXCHANGES = 0.07**2
#: The part of what prints vary by that inks are likely to have in common: a dark picture takes more of every ink
#: (common practice, no source for the figure).
LIKELY_SHARE = 0.5
GIVE_OR_TAKE = 3.0
#: The least share of a reading's variance that is left, however closely a fit follows it.
LEAST_LEFT = 0.3


@dataclass
class _Between:
    """What the inks say about the time between two rounds of readings."""

    misses: list[float] = field(default_factory=list)
    prints: list[float] = field(default_factory=list)
    exchanges: list[float] = field(default_factory=list)
    variances: list[float] = field(default_factory=list)


def variation(fits: Mapping[str, InkFit], step: float, missing: float = 0.0) -> Variation:
    """Spreads of prints and changeovers, from how the inks miss between one round of readings and the next.

    Rounding errors of two inks have nothing to do with each other, so the products of two inks' misses hold only
    what is common to them: spread_prints^2 a_s a_t * sum of area^2 + spread_exchanges^2 w_s w_t. Both spreads are
    found from these products by weighted least squares >= 0 (the method of moments); what the squares of the misses
    hold beyond that and the known errors is each ink's own. ``missing`` sheets for each that was logged come or stay away
    as a whole, in all inks alike: a share of the area squared that prints have in common at the least.
    """
    rounds: defaultdict[tuple[float, float], _Between] = defaultdict(_Between)
    for ink, fit in fits.items():
        if black_of(ink) is None:
            _add(fit, step, rounds)
    rows = [_moments(between) for between in rounds.values() if len(between.misses) > 1]
    if not rows:
        return Variation(0.0, 0.0)
    table = np.array(rows)
    exchanged = table[table[:, 2] > 0.0]
    few = len(exchanged) <= FEWEST_EXCHANGES
    spreads = [fit.spread / fit.area_rate for fit in fits.values() if fit.area_rate > 0.0]
    # What prints have in common is a part of what they vary by.
    most = float(np.median(spreads)) if spreads else 0.0
    prints, exchanges = _common(table[table[:, 2] == 0.0] if few else table, most**2)
    # Each direction's mean was fitted to the same changeovers: two degrees of freedom are gone.
    freed = 1.0 if few else len(exchanged) / (len(exchanged) - 2)
    own = 0.0 if few else freed * _own(exchanged, exchanges)
    spread = float(np.sqrt(exchanges * freed))
    return Variation(min(float(np.sqrt(max(prints, missing))), most), spread, float(np.sqrt(own)))


def _common(table: Floats, most: float) -> tuple[float, float]:
    """The squared common spreads of prints (up to ``most``) and of changeovers.

    Where the products say little, a likely value stands in for them: a part of what prints vary by, and the usual spread
    of changeovers, each give or take ``GIVE_OR_TAKE`` times itself.
    """
    # A product of misses with variances v_s and v_t has the variance v_s v_t, a sum over pairs twice the sum of these.
    rows = table[:, :3] / (np.sqrt(2.0) * table[:, 3:4])
    likely = np.array([LIKELY_SHARE * most or LIKELY_EXCHANGES, LIKELY_EXCHANGES])
    design = np.vstack([rows[:, 1:], np.diag(1.0 / (GIVE_OR_TAKE * likely))])
    prints, exchanges = nonnegative_least_squares(design, np.concatenate([rows[:, 0], np.full(2, 1.0 / GIVE_OR_TAKE)]))
    return float(prints), float(exchanges)


def _own(exchanged: Floats, common: float) -> float:
    """The squared spread of changeovers that each ink has for itself; 0 where it is below its own standard error."""
    known, missed, wasted, inks = exchanged[:, 3], exchanged[:, 4], exchanged[:, 5], exchanged[:, 6]
    weight = wasted / known**2
    scale = float(np.sum(weight * wasted))
    found = float(np.sum(weight * (missed - known - common * wasted))) / scale
    # The sum of squares of n normal misses of variance v has the variance 2 n v^2.
    error = float(np.sqrt(np.sum(2.0 * (weight * known) ** 2 / inks))) / scale
    return found if found > error else 0.0


def _add(fit: InkFit, step: float, rounds: defaultdict[tuple[float, float], _Between]) -> None:
    area, exchange, rate = fit.draws.of(Kind.PRINTS), fit.draws.of(Kind.CHANGEOVERS), fit.area_rate
    pooled = np.array([POOLED in column for column in fit.draws.columns], dtype=bool)
    for run in fit.stretches:
        totals = np.vstack([np.zeros(len(area)), run.totals(fit.draws)])
        squares = np.vstack([np.zeros(len(area)), run.squares(fit.draws)])
        miss = np.diff(np.concatenate([[0.0], run.drawn_ml()]) - totals @ fit.rates)
        prints = np.diff(squares[:, area].sum(axis=1))
        swung = np.sqrt(np.diff(totals[:, exchange], axis=0) @ fit.rates[exchange] ** 2)
        walked = fit.spread**2 * prints
        rounding = rounded_difference(np.diff(totals @ fit.rates), walked, step * run.ml_per_percent)
        known = rounding + walked
        # A miss varies less than what is read by as much as the fit follows it.
        drawn = np.diff(totals, axis=0)
        fitted = np.sum((drawn @ fit.covariance) * drawn, axis=1)
        told = (totals @ fit.rates)[:-1] >= (step * run.ml_per_percent if run.exact else 0.0)
        told &= np.diff(totals[:, pooled].sum(axis=1)) == 0.0
        for n in np.flatnonzero(told):
            # Within a step of a full start all inks are rounded alike, and cleanings that share a rate miss alike.
            between = rounds[float(run.at[n]), float(run.at[n + 1])]
            between.misses.append(float(miss[n]))
            between.prints.append(rate * float(np.sqrt(prints[n])))
            between.exchanges.append(float(swung[n]))
            between.variances.append(float(max(known[n] - fitted[n], LEAST_LEFT * known[n])))


def _moments(between: _Between) -> tuple[float, ...]:
    """Sums over pairs of different inks, then over inks alone.

    Pairs: of misses, of what prints and of what changeovers would make of them. Inks: of known variances, of squared
    misses, and of squared waste; their number.
    """
    lists = (between.misses, between.prints, between.exchanges)
    alone = [float(np.sum(np.square(values))) for values in lists]
    pairs = [float(np.sum(values)) ** 2 - one for values, one in zip(lists, alone, strict=True)]
    return (*pairs, float(np.sum(between.variances)), alone[0], alone[2], float(len(between.misses)))
