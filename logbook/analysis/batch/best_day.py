"""On which day to exchange, and how sure that is: every day tried in many drawn futures.

A future draws the prints that are still to be ordered (whole weeks of the log), what a changeover costs, and how many
attempts a print takes. In each the loaded black is printed until the day tried, the black is exchanged, and from then on
the standing rule decides, or a date that would pass before the next bench day; at the end the rule's relative values
stand for what is to come (a rollout: Bertsekas, D. P. and Tsitsiklis, J. N. (1996), Neuro-Dynamic Programming,
section 6.1.3). The same futures serve every day, so that days differ by what they do and not by luck.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.batch.arrivals import Arrivals
from logbook.analysis.batch.attempts import Attempts
from logbook.analysis.batch.open_order import OpenOrder, in_sequence
from logbook.analysis.batch.problem import Terms
from logbook.analysis.batch.rule import Flow, StandingRule
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval
from logbook.records.fields import BLACKS, Black

__all__ = ["DayTried", "Futures", "days_tried"]

Floats = NDArray[np.float64]

SCENARIOS = 200
MOST_TRIED = 15
DAYS_AFTER = 10
#: Tolerance for sums of minutes, which are floating-point numbers.
ROUNDING = 1e-9


@dataclass(frozen=True)
class Futures:
    """What is not known of the days to come: ``costs`` of a changeover to (matte, photo), and ``attempts`` on either.

    ``minutes_per_print`` is for one attempt.
    """

    arrivals: Arrivals
    costs: tuple[Interval, Interval]
    attempts: tuple[Attempts, Attempts]
    minutes_per_print: float


@dataclass(frozen=True)
class DayTried:
    """Exchanging on ``day``: the ``chance`` that no other day is cheaper, and what it costs more than the best of them.

    ``more`` has the mean over the futures, and the central 90 % of what it costs more than the day that is best on average.
    """

    day: dt.date
    chance: float
    more: Interval


def days_tried(
    orders: Sequence[OpenOrder],
    loaded: Black,
    terms: Terms,
    rule: StandingRule,
    flow: Flow,
    futures: Futures,
    today: dt.date,
    days: Sequence[dt.date],
    *,
    seed: int = 1,
) -> tuple[DayTried, ...]:
    """Each of the first ``days`` (bench days from ``today``, ascending) as the day of the changeover; empty without days."""
    tried = days[:MOST_TRIED]
    if not tried:
        return ()
    cost = _Lanes(orders, loaded, terms, rule, flow, futures, today, days[: MOST_TRIED + DAYS_AFTER], seed).costs(len(tried))
    return tuple(_told(tried, cost))


def _told(days: Sequence[dt.date], cost: Floats) -> list[DayTried]:
    best = cost <= cost.min(axis=1, keepdims=True) + 1e-9
    chance = (best / best.sum(axis=1, keepdims=True)).mean(axis=0)
    more = cost - cost[:, [int(cost.mean(axis=0).argmin())]]
    low, high = np.quantile(more, [0.05, 0.95], axis=0)
    ends = zip(days, chance, more.mean(axis=0), low, high, strict=True)
    return [DayTried(day, float(c), Interval(float(m), float(min(a, m)), float(max(b, m)))) for day, c, m, a, b in ends]


class _Lanes:
    """Futures side by side: arrays have one row for each, and a column for each day tried."""

    def __init__(
        self,
        orders: Sequence[OpenOrder],
        loaded: Black,
        terms: Terms,
        rule: StandingRule,
        flow: Flow,
        futures: Futures,
        today: dt.date,
        days: Sequence[dt.date],
        seed: int,
    ) -> None:
        draw = np.random.default_rng(seed)
        self.loaded, self.rule, self.flow, self.days = BLACKS.index(loaded), rule, flow, days
        self.begun = days[0] == today and terms.used_today > 0
        self.queues = [_Queue(queue, today, days) for queue in in_sequence(list(orders)).values()]
        self.price = np.stack([_money(draw, cost) for cost in futures.costs])
        self.minutes = np.stack([futures.minutes_per_print * one.drawn(draw, SCENARIOS) for one in futures.attempts])
        self.whole, self.changeover = terms.minutes_per_day, terms.changeover_minutes
        self.today = max(0.0, self.whole - terms.used_today) if self.begun else self.whole
        self.arriving = _by_day(futures.arrivals, draw, days)

    def costs(self, tried: int) -> Floats:
        """Money of each day tried in each future, (futures, tried).

        On that day the loaded black is printed before the changeover or left: whichever is cheaper on average.
        """
        shape, columns = (SCENARIOS, 2 * tried), np.arange(2 * tried)[None, :]
        here, loaded_first = columns % tried, columns >= tried
        black, cost = np.full(shape, self.loaded), np.zeros(shape)
        waiting = np.zeros((2, *shape)) + np.array([queue.prints for queue in self.queues])[:, None, None]
        printed = np.zeros((2, *shape))
        for day in range(len(self.days)):
            exchange = np.where(here < day, self._asks(day, black, waiting, printed), here == day)
            before, black = black, np.where(exchange, 1 - black, black)
            cost += exchange * _of(self.price[:, :, None], black)
            made = self._made(day, before, black, waiting, loaded_first & (here == day))
            waiting, printed = waiting - made, printed + made
            cost += self.flow.waiting_cost * waiting.sum(axis=0)
            cost += sum(queue.passing(day, printed[place]) for place, queue in enumerate(self.queues))
            waiting = waiting + self.arriving[:, day, :].T[:, :, None]
        at = np.minimum(waiting, self.rule.most).astype(np.intp)
        both = (cost + self.rule.value[black, at[0], at[1]]).reshape(SCENARIOS, 2, tried)
        return np.asarray(both[:, both.mean(axis=0).argmin(axis=0), np.arange(tried)])

    def _asks(self, day: int, black: NDArray[np.intp], waiting: Floats, printed: Floats) -> NDArray[np.bool_]:
        """Whether the rule, or a date that would pass before the next bench day, asks for a changeover."""
        own, other = _of(waiting, black), _of(waiting, 1 - black)
        most = self.rule.most
        by_rule = np.minimum(other, most) >= self.rule.exchange_from[black, np.minimum(own, most).astype(np.intp)]
        dates = [queue.pressing(day, printed[place]) for place, queue in enumerate(self.queues)]
        return np.asarray(by_rule | np.where(black == 0, dates[1], dates[0]))

    def _made(
        self, day: int, before: NDArray[np.intp], after: NDArray[np.intp], waiting: Floats, loaded_first: NDArray[np.bool_]
    ) -> Floats:
        """Prints of (matte, photo) made on a day that begins and ends with these blacks."""
        whole, exchanged = self.today if day == 0 else self.whole, before != after
        minutes = np.where(exchanged, max(0.0, whole - self.changeover), whole)
        own, other = _of(self.minutes[:, :, None], before), _of(self.minutes[:, :, None], after)
        first = np.where(exchanged & loaded_first, np.minimum(_of(waiting, before), np.floor(minutes / own + ROUNDING)), 0.0)
        then = np.minimum(_of(waiting, after), np.floor((minutes - first * own) / other + ROUNDING))
        return np.stack([first * (before == black) + then * (after == black) for black in range(2)])


def _of(pair: Floats, black: NDArray[np.intp]) -> Floats:
    """The one of (matte, photo) that is each lane's black."""
    return np.asarray(np.where(black == 0, pair[0], pair[1]))


class _Queue:
    """The open orders of one black as counts in their sequence, and what a bench day costs those not printed by its end."""

    def __init__(self, orders: Sequence[OpenOrder], today: dt.date, days: Sequence[dt.date]) -> None:
        self.upto = np.cumsum([order.prints for order in orders], dtype=np.float64)
        self.prints = float(self.upto[-1]) if len(self.upto) else 0.0
        ends = [*days[1:], days[-1] + dt.timedelta(days=1)]
        costs = [
            [one.late_cost(end) + one.wait_cost(end, today) - one.late_cost(day) - one.wait_cost(day, today) for one in orders]
            for day, end in zip(days, ends, strict=True)
        ]
        self._costs = np.array(costs).reshape(len(days), len(orders))
        self._pressing = np.array([[one.late_cost(end) > 0 for one in orders] for end in ends], dtype=bool).reshape(
            self._costs.shape
        )

    def passing(self, day: int, printed: Floats) -> Floats:
        """Money until the next bench day for the orders not printed."""
        return np.asarray((self.upto > printed[..., None] + 0.5) @ self._costs[day])

    def pressing(self, day: int, printed: Floats) -> NDArray[np.bool_]:
        """Whether an order that is not printed would be late by the next bench day."""
        return np.asarray(((self.upto > printed[..., None] + 0.5) & self._pressing[day]).any(axis=-1))


def _money(draw: np.random.Generator, cost: Interval) -> Floats:
    """The cost of a changeover as drawn for each future, (futures,)."""
    spread = draw.normal(size=SCENARIOS) / Z90
    ends = np.where(spread > 0, cost.high - cost.value, cost.value - cost.low)
    return np.asarray(np.maximum(0.0, cost.value + spread * ends))


def _by_day(arrivals: Arrivals, draw: np.random.Generator, days: Sequence[dt.date]) -> NDArray[np.int64]:
    """Prints ordered after each bench day, (futures, days, 2): a week's prints each fall on one of its bench days."""
    a_week = max(1, round(arrivals.days_a_week))
    weeks = -(-len(days) // a_week)
    drawn = arrivals.drawn(draw, SCENARIOS, weeks)
    split = draw.multinomial(drawn, np.full(a_week, 1 / a_week))
    found: NDArray[np.int64] = split.transpose(0, 1, 3, 2).reshape(SCENARIOS, weeks * a_week, 2)[:, : len(days)]
    return found
