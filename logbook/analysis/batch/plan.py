"""Is a matte or a photo batch due: the plan of least cost, exactly.

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
from typing import NamedTuple

import numpy as np

from logbook.analysis.batch.entries import Entry, PlanCost, cost_of, entries
from logbook.analysis.batch.horizon import bench_days_needed
from logbook.analysis.batch.open_order import OpenOrder, sequence_key
from logbook.analysis.batch.problem import Ints, Problem, Terms
from logbook.analysis.batch.room import Counts, options_at_most
from logbook.analysis.numeric.staged_plan import FORBIDDEN, Solution, Stage, cheapest_way, way_from
from logbook.records.fields import Black

__all__ = ["BatchPlan", "FirstExchange", "plan_batches"]

# Beyond this much work (options × states × days) the orders promised last are left out, and the answer says so.
LARGEST_WORK = 40_000_000
MOST_ORDERS = 400
MOST_DAYS = 1_000
DAYS_COMPARED = 60
DAYS_TOLD = 15


@dataclass(frozen=True)
class FirstExchange:
    """The least cost of the plans that exchange for the first time on ``day``, and how many changeovers the best of them has.

    ``dearest`` is the order whose date costs most in it; None where none does, and for days after the first fifteen.
    """

    day: dt.date
    cost: float
    changeovers: int = 1
    dearest: str | None = None


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

    Of equal plans the one with fewer changeovers, then the one whose first changeover is latest (nothing is flushed before
    it must be), then the one that finishes earliest, then the one that prints sooner. The result does not depend on the
    order in which orders are given.

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
    latest = _days_to_last_date(problem)
    compared = min(latest, DAYS_COMPARED, len(problem.days))
    days = bench_days_needed(problem, compared, latest)
    if options_at_most(*problem.minutes, problem.on(days).room) * days > LARGEST_WORK:
        return None
    return _planned(problem, days, compared, latest)


def _days_to_last_date(problem: Problem) -> int:
    """Days on which the first changeover could be: as long as a date of the other black allows, or the loaded one has work.

    From then on waiting can only cost more.
    """
    dates = [order.free_until for order in problem.queues[1 - problem.black] if order.free_until]
    last = max(dates, default=problem.today)
    # A day that has begun may have no room for a changeover.
    return problem.on(0).room.begun + max(1, sum(day <= last for day in problem.days), _days_of_loaded(problem))


def _days_of_loaded(problem: Problem) -> int:
    """Days that the loaded black's orders take when nothing else is printed, and one more."""
    days, done, waiting = 1, 0, len(problem.queues[problem.black])
    while done < waiting and days <= len(problem.days):
        done, days = done + int(problem.on(days - 1).staying[problem.black][done]), days + 1
    return days


def _nothing_to_print(problem: Problem) -> BatchPlan:
    price = problem.terms.cost_from(problem.loaded)
    today = [FirstExchange(day, price) for day in problem.days[:1] if problem.on(0).room.for_changeover]
    return BatchPlan((), PlanCost(0.0, 0.0, 0.0, 0.0), None, tuple(today), ())


class _Stages:
    """The stages of the problem for the dynamic programme, made as they are asked for."""

    def __init__(self, problem: Problem, days: int) -> None:
        self._problem = problem
        matte, photo = problem.minutes
        self.size, self.days = (len(matte) + 1) * (len(photo) + 1), days
        self._done = np.add.outer(np.arange(len(matte) + 1), np.arange(len(photo) + 1)).ravel()
        self._price = np.repeat([problem.changeover_units(0), problem.changeover_units(1)], self.size)
        # Sums of these measures stay below the next one's unit: sooner prints, finished earlier, fewer changeovers.
        self._per_day = days * (len(matte) + len(photo)) + 1
        self._per_exchange = self._per_day * (days + 1)

    def child(self, day: int) -> Counts:
        """The states that follow, by option and state."""
        return self._problem.on(day).options.child

    def changeovers(self, tie: int) -> int:
        """The number of changeovers on a way through the plan, read from its second measure."""
        return tie // self._per_exchange

    def __call__(self, day: int) -> Stage:
        options, states = self._problem.on(day).options, np.arange(2 * self.size)
        exchanged = options.child // self.size != states // self.size
        start, end = states % self.size, options.child % self.size
        matte, photo = (np.concatenate([[0], np.cumsum(costs[day])]) for costs in self._problem.order_costs)
        so_far: Ints = np.add.outer(matte, photo).ravel()
        price = np.where(options.allowed, exchanged * self._price, FORBIDDEN)
        cost = np.minimum(price + so_far[end] - so_far[start], FORBIDDEN)
        finished = (end == self.size - 1) & (start != self.size - 1)
        tie = exchanged * self._per_exchange + finished * (day * self._per_day) + (self._done[end] - self._done[start]) * day
        return Stage(options.child, cost, tie)


class _Leaving(NamedTuple):
    """The best plan that stays up to ``day`` and exchanges then: its cost in all, its changeovers, and its option of the day."""

    cost: int
    changeovers: int
    day: int
    option: int


def _planned(problem: Problem, days: int, compared: int, latest: int) -> BatchPlan | None:
    stages = _Stages(problem, days)
    final = np.full(2 * stages.size, FORBIDDEN, dtype=np.int64)
    final[[stages.size - 1, 2 * stages.size - 1]] = 0
    staying = [problem.black * stages.size]
    for day in range(days):
        staying.append(int(problem.on(day).options.child[0, staying[-1]]))
    solution = cheapest_way(stages, days, final, staying[:days])
    leaving = _ways_to_leave(problem, stages, solution, staying, latest)
    if solution.cost[staying[0]] >= FORBIDDEN:
        return None
    plan = entries(problem, _best_way(stages, solution, staying, leaving))
    exchanges = [entry.date for entry in plan if entry.changeover]
    cost, exchange_on = cost_of(problem, plan), exchanges[0] if exchanges else None
    first: list[FirstExchange] = []
    for one in leaving[:compared]:
        date = problem.days[one.day]
        way = entries(problem, _way(stages, solution, staying, one)) if len(first) < DAYS_TOLD else ()
        # The plan's own day has the plan's own figure, to the last digit.
        money = cost.total if date == exchange_on else one.cost / problem.scale
        first.append(FirstExchange(date, money, one.changeovers, _dearest(problem, way)))
    return BatchPlan(plan, cost, exchange_on, tuple(first), ())


def _dearest(problem: Problem, way: tuple[Entry, ...]) -> str | None:
    """The order whose date costs most."""
    orders = {order.id: order for order in problem.orders}
    costs = {name: orders[name].late_cost(entry.date) for entry in way for name in entry.orders}
    worst = max(costs, key=lambda name: costs[name], default=None)
    return worst if worst is not None and costs[worst] > 0 else None


def _ways_to_leave(problem: Problem, stages: _Stages, solution: Solution, staying: list[int], latest: int) -> list[_Leaving]:
    """The best plan for each day of a first changeover on which one can be made."""
    found: list[_Leaving] = []
    before, photo = 0, len(problem.queues[1]) + 1
    for day, (costs, ties) in enumerate(solution.watched[:latest]):
        least = int(costs[1:].min(initial=FORBIDDEN))
        if least < FORBIDDEN:
            option = 1 + int(np.where(costs[1:] == least, ties[1:], 2**62).argmin())
            found.append(_Leaving(before + least, stages.changeovers(int(ties[option])), day, option))
        here, there = (divmod(state % stages.size, photo) for state in staying[day : day + 2])
        for queue, start, end in zip(problem.order_costs, here, there, strict=True):
            before += int(queue[day, start:end].sum())
    return found


def _best_way(stages: _Stages, solution: Solution, staying: list[int], leaving: list[_Leaving]) -> list[int]:
    """The states that the best plan passes through: it stays until the latest of the best days."""
    best = int(solution.cost[staying[0]])
    chosen = min((one for one in leaving if one.cost == best), key=lambda one: (one.changeovers, -one.day), default=None)
    if stages.changeovers(int(solution.tie[staying[0]])) == 0 or chosen is None:
        return staying
    return _way(stages, solution, staying, chosen)


def _way(stages: _Stages, solution: Solution, staying: list[int], leaving: _Leaving) -> list[int]:
    """The states of a plan that stays until a day and exchanges then."""
    after = int(stages.child(leaving.day)[leaving.option, staying[leaving.day]])
    rest = way_from(solution, stages.child, after, leaving.day + 1)
    return [*staying[: leaving.day + 1], after, *(state for _, state in rest)]
