"""What the ink answers tell the others: the fits, a changeover's cost and the forecast of one printer's inks."""

from __future__ import annotations

import datetime as dt

import msgspec
import numpy as np

from logbook.analysis.ink.answer import InkUse, fit_inks
from logbook.analysis.ink.fit import InkFit
from logbook.analysis.ink.forecast import days_left, level_now, square_metres_left, weekly_ml
from logbook.analysis.ink.log import black_of
from logbook.analysis.numeric.interval import Interval
from logbook.records import Order, Paper, Printer
from logbook.reports.ink.columns import ink_log, price_per_ml
from logbook.snapshot import Snapshot, answered
from logbook.store import columns

__all__ = ["DateInterval", "InkForecast", "changeover_cost", "forecast", "ink_use_of"]

#: Prints whose mean size stands for a coming one's.
RECENT_PRINTS = 100
#: A day this far ahead is no forecast any more.
FARTHEST_DAYS = 3_650


class DateInterval(msgspec.Struct, frozen=True):
    """A day with the two ends of its central 90 % interval."""

    value: dt.date
    low: dt.date
    high: dt.date


class InkForecast(msgspec.Struct, frozen=True, kw_only=True):
    """How far one ink reaches: None where the log does not tell."""

    ink: str
    level_percent: float
    level_ml: float
    m2_left: Interval | None
    prints_left: Interval | None
    runs_out: DateInterval | None


@answered
def ink_use_of(log: Snapshot, printer: Printer, since: dt.date | None = None, until: dt.date | None = None) -> InkUse:
    """The fits of a printer's inks, from what the days ``since`` to ``until`` hold; never past the snapshot's own day."""
    return fit_inks(ink_log(log, printer, since, min(log.day, until or log.day)))


@answered
def changeover_cost(log: Snapshot, printer: str) -> dict[tuple[str, str], Interval]:
    """Money that one changeover wastes in ink, by (from, to); a direction the log can't price is left out."""
    known = log.get(Printer, printer)
    if known is None:
        return {}
    use, prices = ink_use_of(log, known), price_per_ml(log, known)
    directions = dict.fromkeys(exchange.direction for exchange in use.log.exchanges)
    costs = {direction: use.total(direction, prices) for direction in directions}
    return {direction: cost for direction, cost in costs.items() if cost is not None}


@answered
def forecast(log: Snapshot, printer: str) -> tuple[InkForecast, ...]:
    """How far each ink of a printer reaches at the present rate and pace, in the printer's own order of inks.

    The pace is that of the last weeks, with their attempts, changeovers and cleanings and what the printer drew by itself.
    Inks without a cartridge or a level are left out.
    """
    known = log.get(Printer, printer)
    if known is None:
        return ()
    use = ink_use_of(log, known)
    now = dt.datetime.combine(log.day, dt.time.max).astimezone().timestamp()
    sizes = Sizes(log.prints(until=log.day, printer=printer), log.all(Paper))
    found = [_forecast(use, fit, sizes, now, log.day) for fit in use.fits.values()]
    return tuple(one for one in found if one is not None)


def _forecast(use: InkUse, fit: InkFit, sizes: Sizes, now: float, today: dt.date) -> InkForecast | None:
    level, rate = level_now(use.log, fit, now), use.per_m2(fit.draws.ink)
    if level is None:
        return None
    metres = square_metres_left(level, rate) if rate is not None else None
    size = sizes.usual(black_of(fit.draws.ink))
    days = days_left(level, weekly_ml(fit, now)) if rate is not None else None
    return InkForecast(
        ink=fit.draws.ink,
        level_percent=100 * level.ml / level.nominal_ml,
        level_ml=level.ml,
        m2_left=metres,
        prints_left=metres.scaled(1 / size) if metres is not None and size else None,
        runs_out=_dates(today, days),
    )


def _dates(today: dt.date, days: Interval | None) -> DateInterval | None:
    if days is None or days.value > FARTHEST_DAYS:
        return None
    ends = (today + dt.timedelta(days=min(end, FARTHEST_DAYS)) for end in (days.value, days.low, days.high))
    return DateInterval(*ends)


class Sizes:
    """How large a coming print will be, in m² of image: as the recent ones like it."""

    def __init__(self, prints: columns.Prints, papers: list[Paper]) -> None:
        self._prints = prints
        blacks = {paper.id: paper.black for paper in papers}
        self._black = np.array([blacks.get(paper) for paper in prints.paper], dtype=object)
        self._known: dict[tuple[str, str], float] = {}

    def of(self, order: Order, black: str) -> float:
        """Mean area of the order's own prints, else of those on its paper, else of its black, else of all; else 0."""
        if (order.id, black) not in self._known:
            likely = (self._prints.order == order.id, self._prints.paper == order.paper, self._black == black)
            mean = next((self._mean(mask) for mask in likely if np.any(mask)), self.usual(None) or 0.0)
            self._known[order.id, black] = mean
        return self._known[order.id, black]

    def usual(self, black: str | None) -> float | None:
        """Mean area of the recent prints (of one black); None without any."""
        mask = np.ones(len(self._prints), dtype=bool) if black is None else self._black == black
        return self._mean(mask) if np.any(mask) else None

    def _mean(self, mask: np.typing.NDArray[np.bool_]) -> float:
        return float(np.mean(self._prints.area_m2[mask][-RECENT_PRINTS:]))
