"""What one exchange takes of all inks together, with what the inks' errors have in common."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from logbook.analysis.ink.fit import InkFit, Variation
from logbook.analysis.ink.log import Floats, InkLog
from logbook.analysis.numeric.interval import Z90, Interval
from logbook.analysis.numeric.mixture import mixture_reach

__all__ = ["Shared", "direction_total", "influence", "shared", "widened"]


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


def widened(fits: Mapping[str, InkFit], common: Shared, vary: Variation) -> dict[str, InkFit]:
    """The fits with intervals of the exchanges that allow for not knowing by how much these differ."""
    return {ink: replace(fit, intervals=tuple(_widened(ink, fit, common, vary))) for ink, fit in fits.items()}


def _widened(ink: str, fit: InkFit, common: Shared, vary: Variation) -> Iterator[Interval]:
    for place, (column, found) in enumerate(zip(fit.draws.columns, fit.intervals, strict=True)):
        own = float(fit.covariance[place, place])
        if not isinstance(column, tuple) or not own or not fit.told[place]:
            yield found
            continue
        row = common.place[ink, column]
        stretch = _reach(own, float(common.exchanges[row, row]), vary) / (Z90 * np.sqrt(own))
        yield _spanned(found.value, stretch * (found.value - found.low), stretch * (found.high - found.value))


def direction_total(
    fits: Mapping[str, InkFit],
    common: Shared,
    vary: Variation,
    direction: tuple[str, str],
    worth: Mapping[str, float] | None = None,
) -> Interval | None:
    """Sum over the inks of what one exchange takes, in ml, or in money with the ``worth`` of a ml by ink.

    The distances to the inks' own ends (which are ``widened``) add up in squares (Zou and Donner 2008, Statistics in
    Medicine 27, 1693-1702), stretched by the covariance that prints and exchanges, which all inks share, bring in.
    Where the readings do not tell an ink's exchange from its prints, no error is one of chance: such distances add up.
    """
    told: list[Interval] = []
    untold: list[Interval] = []
    own = apart = squares = 0.0
    together = np.zeros(len(common.place))
    for ink, fit in fits.items():
        rate = fit.interval(direction)
        price = 1.0 if worth is None else worth.get(ink)
        if rate is None or price is None:
            continue
        place = fit.draws.columns.index(direction)
        if not fit.told[place]:
            untold.append(rate.scaled(price))
            continue
        told.append(rate.scaled(price))
        variance, row = price**2 * float(fit.covariance[place, place]), common.place[ink, direction]
        together[row] = price
        own += variance
        apart += price**2 * float(common.events[row, row])
        squares += _reach(variance, price**2 * float(common.exchanges[row, row]), vary) ** 2
    if not told and not untold:
        return None
    variance = max(own, own + float(together @ common.events @ together) - apart)
    stretch = _reach(variance, float(together @ common.exchanges @ together), vary) / np.sqrt(squares) if squares else 1.0
    below, above = (
        stretch * np.sqrt(sum(one**2 for one in _distances(told, end))) + sum(_distances(untold, end)) for end in ("low", "high")
    )
    return _spanned(sum(share.value for share in (*told, *untold)), float(below), float(above))


def _distances(shares: Sequence[Interval], end: str) -> list[float]:
    return [abs(getattr(share, end) - share.value) for share in shares]


def _spanned(value: float, below: float, above: float) -> Interval:
    """An interval by its distances; what an exchange takes is never below 0."""
    return Interval(float(value), float(max(0.0, value - below)), float(value + above))


def _reach(variance: float, swung: float, vary: Variation) -> float:
    """Half the width of a 90 % interval; ``swung`` is the part of the variance that exchanges bring in at their usual spread."""
    if vary.likely is None or not vary.exchanges:
        return float(Z90 * np.sqrt(variance))
    squares = variance + swung * ((vary.likely.values / vary.exchanges) ** 2 - 1.0)
    return mixture_reach(np.sqrt(np.maximum(squares, 0.0)), vary.likely.weights)


def _events(log: InkLog) -> int:
    return len(log.print_at) + len(log.exchanges) + len(log.cleanings)
