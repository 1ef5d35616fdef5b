"""The batch problem in whole cost units: exact where money is small, and never too large for 64 bits."""

from __future__ import annotations

import datetime as dt

import pytest

from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.plan import plan_batches
from logbook.analysis.batch.problem import Problem, Terms
from logbook.analysis.numeric.staged_plan import FORBIDDEN
from tests.analysis.batch.instances import TODAY
from tests.analysis.batch.test_plan import order

DAYS = tuple(TODAY + dt.timedelta(days=day) for day in range(0, 30, 3))
TERMS = Terms(240.0, 50.0, 36.0, 35.0)


def _problem(*orders: OpenOrder, terms: Terms = TERMS) -> Problem:
    return Problem(orders, "matte", terms, TODAY, DAYS)


def test_lateness_and_waiting_are_paid_by_the_calendar_day() -> None:
    """Promised the day after tomorrow: three days on it is one day late; it waits from today."""
    problem = _problem(order("a", promised=2, late_cost_per_day=10.0, wait_cost_per_day=0.5), order("b", "photo"))
    matte, photo = problem.order_costs
    assert (matte[:3, 0] / problem.scale).tolist() == pytest.approx([0.0, 1 * 10 + 3 * 0.5, 4 * 10 + 6 * 0.5])
    assert photo.tolist() == [[0]] * 10


def test_an_order_with_no_promise_is_never_late() -> None:
    assert _problem(order("a", late_cost_per_day=10.0)).order_costs[0].max() == 0


def test_money_of_a_workshop_keeps_the_finest_units() -> None:
    problem = _problem(order("a", wait_cost_per_day=0.25))
    assert problem.scale == 1_000_000_000
    assert (problem.changeover_units(0), problem.changeover_units(1)) == (35_000_000_000, 36_000_000_000)


@pytest.mark.parametrize("promised", [-400, 25])
@pytest.mark.parametrize("money", [1e3, 1e9, 1e13])
def test_no_plan_is_too_dear_for_its_units(promised: int, money: float) -> None:
    orders = [order(f"{n}", promised=promised, late_cost_per_day=money, wait_cost_per_day=money) for n in range(20)]
    problem = _problem(*orders, terms=Terms(240.0, 50.0, money, money))
    dearest = int(problem.order_costs[0].max(axis=0).sum()) + len(DAYS) * problem.changeover_units(0)
    assert 2**40 < dearest <= 2**59 * 1.001 < FORBIDDEN / 2


def test_dear_orders_are_planned_as_cheap_ones_are() -> None:
    """The photo order is 4 times as dear a day: there first, and back for the matte one on the next day, three late."""
    late = order("a", minutes=150, promised=0, late_cost_per_day=1e12)
    dearer = order("b", "photo", minutes=150, promised=0, late_cost_per_day=4e12)
    plan = plan_batches([late, dearer], "matte", TERMS, TODAY, DAYS)
    assert [entry.orders for entry in plan.entries] == [("b",), ("a",)]
    assert plan.cost.total == 3e12 + 71


def test_without_days_nothing_costs_anything() -> None:
    problem = Problem((order("a"),), "matte", TERMS, TODAY, ())
    assert problem.order_costs[0].shape == (0, 1)
    assert problem.scale > 0


def test_changeovers_alone_are_not_too_dear_for_their_units() -> None:
    problem = _problem(order("a", late_cost_per_day=0.0), terms=Terms(240.0, 50.0, 1e13, 2e13))
    assert 2**58 < len(DAYS) * problem.changeover_units(0) < 2**59
