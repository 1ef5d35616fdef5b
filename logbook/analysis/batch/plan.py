"""Is a matte or a gloss batch due: the plan of least cost, exactly.

Two families of jobs on one machine with set-ups between them, in known sequences, are scheduled exactly by dynamic
programming over (time, loaded family, jobs done of each): Monma, C. L. and Potts, C. N. (1989), Operations Research
37(5), 798-804. Here time is the bench day, on which the loaded black is printed, then at most one changeover is made,
then the other black is printed; an order is printed whole.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import islice

import numpy as np

from logbook.analysis.batch.entries import Entry, PlanCost, cost_of, entries
from logbook.analysis.batch.horizon import bench_days_needed
from logbook.analysis.batch.open_order import OpenOrder, sequence_key
from logbook.analysis.batch.problem import Ints, Problem, Terms
from logbook.analysis.batch.room import DayOptions, day_options, options_at_most
from logbook.analysis.numeric.staged_plan import FORBIDDEN, Stage, cheapest_way, way_from
from logbook.records.fields import Black

__all__ = ["BatchPlan", "FirstExchange", "plan_batches"]

# Beyond this much work (options × states × days) the orders promised last are left out, and the answer says so.
LARGEST_WORK = 40_000_000
MOST_ORDERS = 400
MOST_DAYS = 1_000
DAYS_COMPARED = 60


@dataclass(frozen=True)
class FirstExchange:
    """The least cost of the plans that exchange for the first time on ``day``."""

    day: dt.date
    cost: float


@dataclass(frozen=True)
class BatchPlan:
    """The cheapest plan.

    ``exchange_on`` is the day of its first changeover; ``first_exchanges`` compares the days on which that could be;
    ``left_out`` are orders that the plan does not reach: it was cut after those promised first.
    """

    entries: tuple[Entry, ...]
    cost: PlanCost
    exchange_on: dt.date | None
    first_exchanges: tuple[FirstExchange, ...]
    left_out: tuple[str, ...]


def plan_batches(orders: Iterable[OpenOrder], loaded: Black, terms: Terms, today: dt.date, days: Iterable[dt.date]) -> BatchPlan:
    """The plan of least cost for ``orders``, from ``today`` on, on the bench ``days`` (ascending, from today).

    Of equal plans the one that finishes earliest, then the one with fewer changeovers, then the one that prints
    sooner, then the one that exchanges later. The result does not depend on the order in which orders are given.

    >>> a = OpenOrder(id="a", black="matte", prints=4, minutes=60, taken=dt.date(2026, 11, 20))
    >>> b = OpenOrder(id="b", black="photo", prints=2, minutes=30, taken=dt.date(2026, 11, 21))
    >>> plan = plan_batches([a, b], "matte", Terms(90, 40, 35, 36), dt.date(2026, 11, 25),
    ...                     [dt.date(2026, 11, 25), dt.date(2026, 11, 26)])
    >>> [(entry.black, entry.orders, entry.minutes) for entry in plan.entries], plan.cost.total
    ([('matte', ('a',), 60.0), ('photo', ('b',), 70.0)], 36.0)
    """
    wanted = sorted(orders, key=sequence_key)
    kept = wanted[:MOST_ORDERS]
    calendar = tuple(islice(days, MOST_DAYS))
    while True:
        problem = Problem(tuple(kept), loaded, terms, today, calendar)
        plan = _solved(problem)
        if plan is not None:
            left_out = tuple(order.id for order in wanted[len(kept) :])
            return BatchPlan(plan.entries, plan.cost, plan.exchange_on, plan.first_exchanges, left_out)
        kept = kept[: len(kept) * 4 // 5]


def _solved(problem: Problem) -> BatchPlan | None:
    """The plan, or None where the problem is too large or the calendar too short for all its orders."""
    if not problem.orders:
        return _nothing_to_print(problem)
    compared = min(_days_to_compare(problem), len(problem.days))
    days = bench_days_needed(problem, compared)
    if options_at_most(*problem.minutes, problem.room) * days > LARGEST_WORK:
        return None
    return _planned(problem, days, compared)


def _days_to_compare(problem: Problem) -> int:
    """Days on which the first exchange is looked at: to the last promised date of the other black, but not for ever."""
    promised = [order.promised for order in problem.queues[1 - problem.black] if order.promised]
    last = max(promised, default=problem.today)
    compared = sum(day <= last for day in problem.days[:DAYS_COMPARED])
    return max(1, compared, min(DAYS_COMPARED, _days_of_loaded(problem)))


def _days_of_loaded(problem: Problem) -> int:
    """Days that the loaded black's orders take when nothing else is printed, and one more."""
    days, done, steps = 1, 0, problem.staying[problem.black]
    while steps[done]:
        done, days = done + int(steps[done]), days + 1
    return days


def _nothing_to_print(problem: Problem) -> BatchPlan:
    price = problem.terms.cost_from(problem.loaded)
    today = [FirstExchange(day, price) for day in problem.days[:1]]
    return BatchPlan((), PlanCost(0.0, 0.0, 0.0, 0.0), None, tuple(today), ())


class _Stages:
    """The stages of the problem for the dynamic programme, made as they are asked for."""

    def __init__(self, problem: Problem, options: DayOptions, days: int) -> None:
        self.child = options.child
        self._problem = problem
        matte, photo = problem.minutes
        size = (len(matte) + 1) * (len(photo) + 1)
        self.size, self.days = size, days
        grid = np.arange(2 * size) % size
        done = np.add.outer(np.arange(len(matte) + 1), np.arange(len(photo) + 1)).ravel()
        exchanged = options.child // size != np.arange(2 * size) // size
        price = np.repeat([problem.changeover_units(0), problem.changeover_units(1)], size)
        self._from, self._to = grid, options.child % size
        self._price = np.where(options.allowed, exchanged * price, FORBIDDEN)
        self._printed = done[self._to] - done[self._from]
        self._finished = (self._to == size - 1) & (self._from != size - 1)
        self._exchanged = exchanged.astype(np.int64)
        # Sums of these measures stay below the next one's unit: later exchanges, sooner prints, fewer, finished.
        self._per_print = days * days + 1
        self._per_exchange = self._per_print * (days * (len(matte) + len(photo)) + 1)
        self._per_day = self._per_exchange * (days + 1)

    def __call__(self, day: int) -> Stage:
        matte, photo = (np.concatenate([[0], np.cumsum(costs[day])]) for costs in self._problem.order_costs)
        so_far: Ints = np.add.outer(matte, photo).ravel()
        cost = np.minimum(self._price + so_far[self._to] - so_far[self._from], FORBIDDEN)
        tie = self._finished * ((day + 1) * self._per_day) + self._printed * (day * self._per_print)
        tie += self._exchanged * (self._per_exchange + self.days - day)
        return Stage(self.child, cost, tie)


def _planned(problem: Problem, days: int, compared: int) -> BatchPlan | None:
    options = day_options(*problem.minutes, problem.room)
    stages = _Stages(problem, options, days)
    final = np.full(2 * stages.size, FORBIDDEN, dtype=np.int64)
    final[[stages.size - 1, 2 * stages.size - 1]] = 0
    start = problem.black * stages.size
    staying = [start]
    for _ in range(days - 1):
        staying.append(int(options.child[0, staying[-1]]))
    solution = cheapest_way(stages, days, final, staying)
    if solution.cost[start] >= FORBIDDEN:
        return None
    way = way_from(solution, stages, start)
    plan = entries(problem, [start, *(state for _, state in way)])
    exchanges = [entry.date for entry in plan if entry.changeover]
    cost, exchange_on = cost_of(problem, plan), exchanges[0] if exchanges else None
    first = _compared(problem, solution.watched, staying, compared)
    # The plan's own day has the plan's own figure, to the last digit.
    first = tuple(FirstExchange(one.day, cost.total) if one.day == exchange_on else one for one in first)
    return BatchPlan(plan, cost, exchange_on, first, ())


def _compared(problem: Problem, watched: Ints, staying: list[int], compared: int) -> tuple[FirstExchange, ...]:
    """The least cost for each day of a first exchange."""
    found: list[FirstExchange] = []
    before = 0
    matte, photo = (len(queue) + 1 for queue in problem.queues)
    for day in range(min(compared, len(watched))):
        least = int(watched[day, 1:].min())
        if least < FORBIDDEN:
            found.append(FirstExchange(problem.days[day], (before + least) / problem.scale))
        here, there = (state % (matte * photo) for state in staying[day : day + 2]) if day + 1 < len(staying) else (0, 0)
        for costs, start, end in zip(problem.order_costs, divmod(here, photo), divmod(there, photo), strict=True):
            before += int(costs[day, start:end].sum())
    return tuple(found)
