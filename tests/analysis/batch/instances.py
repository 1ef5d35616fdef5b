"""Small batch problems, and every plan there is for them, tried one after the other."""

from __future__ import annotations

import datetime as dt
import random
from collections.abc import Iterator
from dataclasses import dataclass

from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.open_order import OpenOrder, sequence_key
from logbook.analysis.batch.plan import BatchPlan, plan_batches
from logbook.analysis.batch.problem import Terms
from logbook.records.fields import BLACKS, Black

TODAY = dt.date(2026, 11, 25)
SLACK = 1e-6


@dataclass(frozen=True)
class Instance:
    """One batch problem."""

    orders: tuple[OpenOrder, ...]
    loaded: Black
    terms: Terms
    days: tuple[dt.date, ...]

    def plan(self) -> BatchPlan:
        """The plan of the dynamic programme."""
        return plan_batches(self.orders, self.loaded, self.terms, TODAY, self.days)


@dataclass(frozen=True)
class Best:
    """The best (cost, changeovers, day of the first of them, day of finishing) of all plans; least costs by first changeover."""

    cost: float
    changeovers: int
    first: int | None
    finished: int
    first_exchanges: tuple[float, ...]


def drawn(seed: int, most_orders: int = 4) -> Instance:
    """A small instance: round numbers on purpose, so that equal plans are common."""
    draw = random.Random(seed)
    orders = tuple(_order(draw, number) for number in range(draw.randint(1, most_orders)))
    terms = Terms(
        draw.choice([60.0, 90.0, 120.0]),
        draw.choice([0.0, 30.0, 45.0, 60.0, 100.0]),
        draw.choice([0.0, 1.0, 4.0, 30.0]),
        draw.choice([0.0, 1.0, 6.0, 35.5]),
        draw.choice([0.0, 0.0, 20.0, 70.0]),
    )
    weekdays = draw.choice([{3}, {1, 3, 5}, {1, 2, 3, 4, 5}, {2, 6}])
    days = tuple(day for day, _ in zip(bench_days(TODAY, weekdays), range(2 * len(orders) + 2), strict=False))
    return Instance(orders, draw.choice(BLACKS), terms, days)


def _order(draw: random.Random, number: int) -> OpenOrder:
    promised = draw.choice([None, draw.randint(-4, 20)])
    free = draw.choice([3, 8, 30]) if promised is None else promised - draw.choice([0, 1])
    return OpenOrder(
        id=f"order {number}",
        black=draw.choice(BLACKS),
        prints=1,
        minutes=draw.choice([15.0, 20.0, 30.0, 45.0, 60.0, 75.0, 150.0]),
        taken=TODAY - dt.timedelta(days=draw.randint(0, 3)),
        promised=None if promised is None else TODAY + dt.timedelta(days=promised),
        free_until=TODAY + dt.timedelta(days=free),
        late_cost_per_day=draw.choice([0.0, 0.1, 1.0, 1.0, 5.0, 20.0]),
        wait_cost_per_day=draw.choice([0.0, 0.0, 0.1, 0.3]),
    )


class _Search:
    """Walks through every plan: any number of orders before and after a changeover, and idle days too."""

    def __init__(self, instance: Instance) -> None:
        ordered = sorted(instance.orders, key=sequence_key)
        self.instance = instance
        self.queues = {black: [order for order in ordered if order.black == black] for black in BLACKS}
        self.best: tuple[float, int, float, int] = (float("inf"), 0, 0, 0)
        self.first = [float("inf")] * len(instance.days)

    def walk(self, day: int, loaded: Black, done: dict[Black, int], cost: float, changeovers: int, first: int | None) -> None:
        if all(done[black] == len(self.queues[black]) for black in BLACKS):
            put_off = float("-inf") if first is None else -first
            self.best = min(self.best, (round(cost, 6), changeovers, put_off, day))
            if first is not None:
                self.first[first] = min(self.first[first], cost)
            return
        # What is dearer than a plan that is known leads nowhere, unless it is compared with others of its first changeover.
        hopeless = first is not None and cost > max(self.best[0], self.first[first]) + SLACK
        if day == len(self.instance.days) or hopeless:
            return
        for after, then, more, exchanged in self._days(day, loaded, done):
            exchange = day if first is None and exchanged else first
            self.walk(day + 1, after, then, cost + more, changeovers + exchanged, exchange)

    def _days(self, day: int, loaded: Black, done: dict[Black, int]) -> Iterator[tuple[Black, dict[Black, int], float, bool]]:
        terms, other = self.instance.terms, BLACKS[1 - BLACKS.index(loaded)]
        begun = terms.used_today > 0 and self.instance.days[day] == TODAY
        whole = max(0.0, terms.minutes_per_day - terms.used_today * begun)
        room = whole - terms.changeover_minutes
        for count in self._counts(loaded, done, whole, alone=not begun):
            yield loaded, done | {loaded: done[loaded] + count}, self._cost(day, loaded, done, count), False
        if begun and room < 0:
            return
        price = terms.cost_from(loaded)
        for before in self._counts(loaded, done, room, alone=False):
            minutes = sum(order.minutes for order in self._next(loaded, done, before))
            for after in self._counts(other, done, room - minutes, alone=False):
                then: dict[Black, int] = {loaded: done[loaded] + before, other: done[other] + after}
                cost = price + self._cost(day, loaded, done, before) + self._cost(day, other, done, after)
                yield other, then, cost, True

    def _counts(self, black: Black, done: dict[Black, int], room: float, *, alone: bool) -> list[int]:
        counts, minutes = [0], 0.0
        for number, order in enumerate(self.queues[black][done[black] :], 1):
            minutes += order.minutes
            if minutes <= room + SLACK or (alone and number == 1):
                counts.append(number)
            if minutes > room + SLACK:
                break
        return counts

    def _next(self, black: Black, done: dict[Black, int], count: int) -> list[OpenOrder]:
        return self.queues[black][done[black] : done[black] + count]

    def _cost(self, day: int, black: Black, done: dict[Black, int], count: int) -> float:
        date = self.instance.days[day]
        return sum(order.late_cost(date) + order.wait_cost(date, TODAY) for order in self._next(black, done, count))


def every_plan(instance: Instance) -> Best:
    """The best of all plans, by trying them all."""
    search = _Search(instance)
    search.walk(0, instance.loaded, {"matte": 0, "photo": 0}, 0.0, 0, None)
    cost, changeovers, put_off, finished = search.best
    first = None if changeovers == 0 else -int(put_off)
    return Best(cost, changeovers, first, finished, tuple(search.first))
