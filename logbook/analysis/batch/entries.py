"""A plan as it is read: one entry per date and black, and what it costs."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

from logbook.analysis.batch.problem import Problem
from logbook.records.fields import BLACKS, Black

__all__ = ["Entry", "PlanCost", "cost_of", "entries"]


@dataclass(frozen=True)
class Entry:
    """What is printed with one black on one date; ``changeover``: a changeover comes first.

    ``minutes`` includes the changeover; ``orders`` is empty where nothing is printed after it on that date.
    """

    date: dt.date
    black: Black
    changeover: bool
    orders: tuple[str, ...]
    minutes: float


@dataclass(frozen=True)
class PlanCost:
    """Money: changeovers, lateness of what was promised, waiting of everything else, and their total."""

    total: float
    changeovers: float
    late: float
    waiting: float


def entries(problem: Problem, states: list[int]) -> tuple[Entry, ...]:
    """The entries of the plan that passes through these states (indices as in ``DayOptions``), one per day."""
    found: list[Entry] = []
    for day, before, after in zip(problem.days, states, states[1:], strict=False):
        found += _entries_of_day(problem, day, _unfolded(problem, before), _unfolded(problem, after))
    return tuple(found)


def _unfolded(problem: Problem, state: int) -> tuple[int, tuple[int, int]]:
    """Loaded black, and orders done of matte and of photo."""
    photo = len(problem.queues[1]) + 1
    black, rest = divmod(state, (len(problem.queues[0]) + 1) * photo)
    return black, divmod(rest, photo)


def _entries_of_day(
    problem: Problem, day: dt.date, before: tuple[int, tuple[int, int]], after: tuple[int, tuple[int, int]]
) -> list[Entry]:
    found: list[Entry] = []
    for black in (before[0], 1 - before[0]):
        exchanged = black != before[0] and after[0] != before[0]
        orders = problem.queues[black][before[1][black] : after[1][black]]
        if orders or exchanged:
            minutes = sum(order.minutes for order in orders) + exchanged * problem.terms.changeover_minutes
            found.append(Entry(day, BLACKS[black], exchanged, tuple(order.id for order in orders), float(minutes)))
    return found


def cost_of(problem: Problem, plan: tuple[Entry, ...]) -> PlanCost:
    """What a plan costs, added up from its entries."""
    orders = {order.id: order for order in problem.orders}
    printed = [(orders[name], entry.date) for entry in plan for name in entry.orders]
    changeovers = sum(
        problem.terms.cost_to_photo if entry.black == "photo" else problem.terms.cost_to_matte
        for entry in plan
        if entry.changeover
    )
    late = sum(order.late_cost(day) for order, day in printed if order.promised)
    waiting = sum(order.wait_cost(day, problem.today) for order, day in printed)
    waiting += sum(order.late_cost(day) for order, day in printed if not order.promised)
    return PlanCost(float(changeovers + late + waiting), float(changeovers), float(late), float(waiting))
