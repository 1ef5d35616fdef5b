"""How many prints are ordered: what the bench record says, else the orders of the last twelve months, week by week."""

from __future__ import annotations

import datetime as dt
from itertools import takewhile

import msgspec
import numpy as np

from logbook.analysis.batch.arrivals import LEAST_WEEKS, YEAR_WEEKS, Arrivals
from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.numeric.interval import Interval
from logbook.records import Bench, Order
from logbook.records.fields import BLACKS, Black
from logbook.snapshot import Snapshot
from logbook.snapshot.away import times_away
from logbook.snapshot.orders import black_of

__all__ = ["Arriving", "arriving", "weeks_of"]

#: Weeks that are drawn where the bench record says how many prints come in and nothing says how they scatter.
SUPPOSED_WEEKS = 200


class Arriving(msgspec.Struct, frozen=True, kw_only=True):
    """Prints ordered per bench day, and what they were counted from (None: the bench record says them)."""

    rates: dict[Black, Interval]
    orders: int | None = None
    weeks: int | None = None
    season: float = 1.0


def arriving(log: Snapshot, bench: Bench, *, shared: bool) -> Arriving | None:
    """None where nothing tells. Where printers share the orders, the log does not tell which of them one came for."""
    said = bench.prints_per_bench_day
    if said is not None:
        rates = {"matte": said.matte, "photo": said.photo}
        return Arriving(rates={black: Interval(rates[black], rates[black], rates[black]) for black in BLACKS})
    weeks = None if shared else _weeks(log, bench)
    if weeks is None:
        return None
    first = log.day - dt.timedelta(days=7 * len(weeks.weeks) - 1)
    orders = sum(first <= order.taken <= log.day for order in _orders(log))
    return Arriving(rates=weeks.rates(), orders=orders, weeks=len(weeks.weeks), season=weeks.season())


def weeks_of(log: Snapshot, bench: Bench) -> Arrivals:
    """The weeks that futures are drawn from."""
    said = bench.prints_per_bench_day
    logged = _weeks(log, bench)
    if said is None and logged is not None:
        return logged
    a_week = float(max(1, len(bench.weekdays)))
    mean = np.array([said.matte, said.photo]) * a_week if said is not None else np.zeros(2)
    return Arrivals(np.random.default_rng(1).poisson(mean, (SUPPOSED_WEEKS, 2)), a_week)


def _orders(log: Snapshot) -> list[Order]:
    """Orders that ask for a known black; one called off asked for nothing."""
    return [order for order in log.all(Order) if order.cancelled is None and black_of(log, order) is not None]


def _weeks(log: Snapshot, bench: Bench) -> Arrivals | None:
    """Prints ordered in each of the last weeks, up to a year; None below four weeks or without a bench day."""
    orders = [order for order in _orders(log) if order.taken <= log.day]
    first = min((order.taken for order in orders), default=log.day)
    number = min(YEAR_WEEKS, ((log.day - first).days + 1) // 7)
    start = log.day - dt.timedelta(days=7 * number - 1)
    worked = sum(1 for _ in takewhile(lambda day: day <= log.day, bench_days(start, bench.weekdays, times_away(log))))
    if number < LEAST_WEEKS or not worked:
        return None
    weeks = np.zeros((number, 2), dtype=np.int64)
    for order in orders:
        if order.taken >= start:
            weeks[(order.taken - start).days // 7, BLACKS.index(black_of(log, order) or "matte")] += order.prints
    return Arrivals(weeks, worked / number)
