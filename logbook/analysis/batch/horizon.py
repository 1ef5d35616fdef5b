"""How many bench days a plan may need: so many that no later day can be cheaper.

Three bounds, the smallest holds. None is a guess:

- A plan that prints anything on a late day pays at least one changeover (if both blacks are ordered), every order's
  cheapest day, and that late order. Once this passes the cost of a plan that is known, later days cannot win.
- Each day of the best plan prints an order or exchanges the black, and a changeover is followed by a print.
- Two days in a row without changeover hold more than one day's minutes, or the second would have moved up.
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np

from logbook.analysis.batch.problem import Problem
from logbook.analysis.batch.room import fitting

__all__ = ["Known", "bench_days_needed", "known_plan"]


class Known(NamedTuple):
    """A plan that can be carried out: its cost in cost units and the number of days it takes."""

    cost: int
    days: int


def known_plan(problem: Problem, first_exchange: int) -> Known | None:
    """Print the loaded black, exchange on day ``first_exchange``, print all of the other, exchange back if needed.

    None where the problem's days do not suffice.
    """
    black, day, cost, done = problem.black, 0, 0, [0, 0]
    counts = [len(queue) for queue in problem.queues]
    while done[0] < counts[0] or done[1] < counts[1]:
        if day >= len(problem.days):
            return None
        exhausted = done[black] == counts[black] and done[1 - black] < counts[1 - black]
        exchange = day == first_exchange or (day > first_exchange and exhausted)
        if exchange and not problem.on(day).room.for_changeover:
            return None
        for now, count in _printed(problem, black, done, day, exchange):
            cost += int(problem.order_costs[now][day, done[now] : done[now] + count].sum())
            done[now] += count
        if exchange:
            cost += problem.changeover_units(black)
            black = 1 - black
        day += 1
    return Known(cost, day)


def _printed(problem: Problem, black: int, done: list[int], day: int, exchange: bool) -> list[tuple[int, int]]:
    """Orders printed on one day, as (black, count): after a changeover the rest of the day goes to the other black."""
    daily = problem.on(day)
    if not exchange:
        return [(black, int(daily.staying[black][done[black]]))]
    before = int(daily.beside_changeover[black][done[black]])
    own = problem.minutes[black][done[black] : done[black] + before]
    left = daily.room.beside_changeover - float(own.sum())
    after = int(fitting(problem.minutes[1 - black], left)[done[1 - black]])
    return [(black, before), (1 - black, after)]


def bench_days_needed(problem: Problem, compared: int, latest: int) -> int:
    """Number of days (at most those of the problem) that decide all plans with a first changeover on those ``compared``, and
    the best plan of all, whose first changeover lies among the first ``latest`` days.
    """
    plans = [known_plan(problem, first) for first in range(compared)]
    known = [plan for plan in plans if plan is not None]
    if not known:
        return len(problem.days)
    dearest = max(plan.cost for plan in known)
    longest = max(plan.days for plan in known)
    enough = min(_days_until_dearer(problem, dearest), _days_of_work(problem, dearest) + max(compared, latest))
    return min(len(problem.days), max(longest, enough))


def _days_until_dearer(problem: Problem, dearest: int) -> int:
    """First day on which printing anything at all makes a plan dearer than ``dearest``."""
    costs = [np.zeros((len(problem.days), 0), dtype=np.int64), *problem.order_costs]
    joined = np.concatenate(costs, axis=1)
    least = int(joined[0].sum()) + _changeovers_at_least(problem)
    latest = least + (joined - joined[0]).min(axis=1)
    dearer = np.nonzero(latest > dearest)[0]
    return int(dearer[0]) if len(dearer) else len(problem.days)


def _changeovers_at_least(problem: Problem) -> int:
    return problem.changeover_units(problem.black) if problem.queues[1 - problem.black] else 0


def _days_of_work(problem: Problem, dearest: int) -> int:
    """Most days on which the best plan can print or exchange."""
    matte, photo = problem.minutes
    orders = len(matte) + len(photo)
    changeovers = 2 * min(len(matte), len(photo)) + 1
    there_and_back = problem.changeover_units(0) + problem.changeover_units(1)
    if there_and_back:
        spare = dearest - int(sum(costs[0].sum() for costs in problem.order_costs))
        changeovers = min(changeovers, 2 * (spare // there_and_back) + 1)
    day = problem.terms.minutes_per_day
    busy = float(np.minimum(np.concatenate([matte, photo]), day).sum())
    begun = int(problem.on(0).room.begun)
    return begun + min(orders + changeovers, math.floor(2 * busy / day) + 2 * changeovers + 2)
