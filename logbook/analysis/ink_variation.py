"""How prints, and exchanges, vary in common over all inks: what makes a total less sure than its parts."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from logbook.analysis.ink_draws import AREA
from logbook.analysis.ink_events import POOLED
from logbook.analysis.ink_fit import InkFit, Variation
from logbook.analysis.ink_log import black_of
from logbook.analysis.numeric.nonnegative import nonnegative_least_squares

__all__ = ["variation"]

#: Of fewer exchanges than this between readings of one kind nothing can be said about how they differ.
FEWEST_EXCHANGES = 3


@dataclass
class _Between:
    """What the inks say about the time between two rounds of readings."""

    misses: list[float] = field(default_factory=list)
    prints: list[float] = field(default_factory=list)
    exchanges: list[float] = field(default_factory=list)
    variances: list[float] = field(default_factory=list)


def variation(fits: Mapping[str, InkFit], step: float) -> Variation:
    """Common spreads, from how the inks miss together between one round of readings and the next.

    Rounding errors of two inks have nothing to do with each other, so the products of two inks' misses hold only
    what is common to them: spread_prints^2 a_s a_t * sum of area^2 + spread_exchanges^2 w_s w_t. Both spreads are
    found from these products by weighted least squares >= 0 (the method of moments).
    """
    rounds: defaultdict[tuple[float, float], _Between] = defaultdict(_Between)
    for ink, fit in fits.items():
        if black_of(ink) is None:
            _add(fit, step, rounds)
    rows = [_products(between) for between in rounds.values() if len(between.misses) > 1]
    if not rows:
        return Variation(0.0, 0.0)
    table = np.array(rows)
    weighted = table[:, :3] / table[:, 3:]
    squares = nonnegative_least_squares(weighted[:, 1:], weighted[:, 0])
    seen = int(np.sum(table[:, 2] > 0))
    # Each direction's mean was fitted to the same exchanges: two degrees of freedom are gone.
    freed = seen / (seen - 2) if seen > FEWEST_EXCHANGES else 0.0
    spreads = [fit.spread / fit.area_rate for fit in fits.values() if fit.area_rate > 0.0]
    # What prints have in common is a part of what they vary by.
    most = float(np.median(spreads)) if spreads else 0.0
    return Variation(min(float(np.sqrt(squares[0])), most), float(np.sqrt(squares[1] * freed)))


def _add(fit: InkFit, step: float, rounds: defaultdict[tuple[float, float], _Between]) -> None:
    area = np.array([column == AREA for column in fit.draws.columns], dtype=bool)
    exchange = np.array([isinstance(column, tuple) for column in fit.draws.columns], dtype=bool)
    pooled = np.array([POOLED in column for column in fit.draws.columns], dtype=bool)
    for run in fit.stretches:
        totals = np.vstack([np.zeros(len(area)), run.totals(fit.draws)])
        squares = np.vstack([np.zeros(len(area)), run.squares(fit.draws)])
        miss = np.diff(np.concatenate([[0.0], run.drawn_ml()]) - totals @ fit.rates)
        prints = np.diff(squares[:, area].sum(axis=1))
        swung = np.sqrt(np.diff(totals[:, exchange], axis=0) @ fit.rates[exchange] ** 2)
        rounding = (step * run.ml_per_percent) ** 2 / 6.0
        told = (totals @ fit.rates)[:-1] >= (step * run.ml_per_percent if run.exact else 0.0)
        told &= np.diff(totals[:, pooled].sum(axis=1)) == 0.0
        for n in np.flatnonzero(told):
            # Within a step of a full start all inks are rounded alike, and cleanings that share a rate miss alike.
            between = rounds[float(run.at[n]), float(run.at[n + 1])]
            between.misses.append(float(miss[n]))
            between.prints.append(fit.area_rate * float(np.sqrt(prints[n])))
            between.exchanges.append(float(swung[n]))
            between.variances.append(rounding + fit.spread**2 * float(prints[n]))


def _products(between: _Between) -> tuple[float, float, float, float]:
    """Sums over pairs of different inks: of misses, of what prints and exchanges would make of them; their sd."""
    pairs = [
        float(np.sum(values)) ** 2 - float(np.sum(np.square(values)))
        for values in (between.misses, between.prints, between.exchanges)
    ]
    return pairs[0], pairs[1], pairs[2], float(np.sum(between.variances))
