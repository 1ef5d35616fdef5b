"""What one exchange takes of all inks together, with what the inks' errors have in common."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink_fit import InkFit, Variation
from logbook.analysis.ink_log import Floats, InkLog
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.student import widening

__all__ = ["Shared", "direction_total", "influence", "shared"]


@dataclass(frozen=True)
class Shared:
    """How the inks' rates of exchanges move together with what prints, exchanges and cleanings have in common.

    Sums of products (m, m) over all events, and over the exchanges alone; ``place`` is the row of each ink and direction.
    """

    place: dict[tuple[str, tuple[str, str]], int]
    events: Floats
    exchanges: Floats


def shared(log: InkLog, fits: Mapping[str, InkFit], common: Variation) -> Shared:
    """The products of all inks' influences: few numbers, where the influences are as many as the prints."""
    place: dict[tuple[str, tuple[str, str]], int] = {}
    moved = [np.zeros((_events(log), 0))]
    for ink, fit in fits.items():
        exchanged = [n for n, column in enumerate(fit.draws.columns) if isinstance(column, tuple)]
        place |= {(ink, column): len(place) + n for n, column in enumerate(c for c in fit.draws.columns if isinstance(c, tuple))}
        moved.append(influence(log, fit, common)[:, exchanged])
    rows = np.hstack(moved)
    own = rows[len(log.print_at) : len(log.print_at) + len(log.exchanges)]
    return Shared(place, rows.T @ rows, own.T @ own)


def influence(log: InkLog, fit: InkFit, common: Variation) -> Floats:
    """How far a usual common deviation of each print, exchange and cleaning moves each of an ink's rates (events, k)."""
    moved = np.zeros((_events(log), len(fit.rates)))
    deviation = (common.common(fit.draws.columns) * fit.rates)[fit.draws.column] * fit.draws.amount
    for run, series in zip(fit.telling if fit.series else [], fit.series, strict=True):
        weights = np.linalg.solve(series.known + fit.spread**2 * series.walk, series.design) @ fit.covariance
        after = np.cumsum(weights[::-1], axis=0)[::-1]
        first, last = run.upto[0], run.upto[-1]
        rows = np.searchsorted(run.upto[1:], np.arange(first, last), side="right")
        np.add.at(moved, fit.draws.event[first:last], after[rows] * deviation[first:last, None])
    return moved


def direction_total(
    fits: Mapping[str, InkFit],
    common: Shared,
    freedom: int,
    direction: tuple[str, str],
    worth: Mapping[str, float] | None = None,
) -> Interval | None:
    """Sum over the inks of what one exchange takes, in ml, or in money with the ``worth`` of a ml by ink.

    The distances to the inks' own ends add up in squares (Zou and Donner 2008, Statistics in Medicine 27, 1693-1702),
    stretched by the covariance that prints and exchanges, which all inks share, bring in. What the exchanges bring in is
    known only with some degrees of ``freedom``.
    """
    shares: list[Interval] = []
    own = apart = 0.0
    together = np.zeros(len(common.place))
    for ink, fit in fits.items():
        rate = fit.interval(direction)
        price = 1.0 if worth is None else worth.get(ink)
        if rate is None or price is None:
            continue
        shares.append(rate.scaled(price))
        place = fit.draws.columns.index(direction)
        own += price**2 * float(fit.covariance[place, place])
        row = common.place[ink, direction]
        together[row] = price
        apart += price**2 * float(common.events[row, row])
    if not shares:
        return None
    variance = max(own, own + float(together @ common.events @ together) - apart)
    share = min(1.0, float(together @ common.exchanges @ together) / variance) if variance else 0.0
    stretch = np.sqrt(variance / own) * widening(share, freedom) if own else 1.0
    value = sum(share.value for share in shares)
    below = np.sqrt(sum((share.value - share.low) ** 2 for share in shares))
    above = np.sqrt(sum((share.high - share.value) ** 2 for share in shares))
    return Interval(value, max(0.0, float(value - stretch * below)), float(value + stretch * above))


def _events(log: InkLog) -> int:
    return len(log.print_at) + len(log.exchanges) + len(log.cleanings)
