"""Which day is best, and how sure that is."""

from __future__ import annotations

import datetime as dt
from itertools import islice

import numpy as np
import pytest

from logbook.analysis.batch.arrivals import Arrivals, Counts
from logbook.analysis.batch.attempts import Attempts
from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.best_day import DayTried, Futures, days_tried
from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.plan import plan_batches
from logbook.analysis.batch.problem import Terms
from logbook.analysis.batch.rule import Flow, standing_rule
from logbook.analysis.numeric.interval import Interval
from tests.analysis.batch.instances import TODAY
from tests.analysis.batch.test_arrivals import weeks
from tests.analysis.batch.test_plan import order

TERMS = Terms(240.0, 50.0, 27.0, 28.0)
DAYS = tuple(islice(bench_days(TODAY, {1, 2, 3, 4, 5}), 60))
FLOW = Flow(0.8, 0.4, (8, 8), (6, 6), 27.0, 28.0, 0.5)


def sure(cost: float) -> Interval:
    return Interval(cost, cost, cost)


def tried(*orders: OpenOrder, weekly: Counts | None = None, flow: Flow = FLOW) -> tuple[DayTried, ...]:
    rule = standing_rule(flow)
    assert rule is not None
    arrivals = Arrivals(np.zeros((8, 2), dtype=np.int64) if weekly is None else weekly, 5.0)
    futures = Futures(arrivals, (sure(27.0), sure(28.0)), (Attempts(), Attempts()), 20.0)
    return days_tried(orders, "matte", TERMS, rule, flow, futures, TODAY, DAYS)


def test_the_days_are_the_coming_bench_days_and_their_chances_are_all_of_them() -> None:
    days = tried(order("a", "photo", promised=5))
    assert [one.day for one in days] == list(DAYS[:15])
    assert sum(one.chance for one in days) == pytest.approx(1.0)
    assert min(one.more.value for one in days) == 0.0


def test_what_was_promised_for_a_day_is_best_exchanged_for_by_then() -> None:
    """Nothing comes in, so nothing is unknown: 30 a day late, and waiting costs half a unit a day."""
    late = order("a", "photo", promised=5, late_cost_per_day=30.0)
    best = max(tried(late), key=lambda one: one.chance)
    assert best.chance == 1.0
    assert best.day <= TODAY + dt.timedelta(days=5)
    costs = {one.day: one.more.value for one in tried(late)}
    assert costs[TODAY + dt.timedelta(days=6)] > 29


def test_it_finds_the_plans_day_where_only_dates_count() -> None:
    """Waiting is free, nothing arrives: the cheapest of all days is the plan's, to the cent."""
    flow = Flow(0.05, 0.05, (8, 8), (6, 6), 27.0, 28.0, 1e-9)
    orders = [order("a", minutes=60), order("b", "photo", promised=6, late_cost_per_day=4.0), order("c", "photo", promised=9)]
    plan = plan_batches(orders, "matte", TERMS, TODAY, DAYS)
    costs = {one.day: one.more.value for one in tried(*orders, flow=flow)}
    assert plan.exchange_on is not None
    assert costs[plan.exchange_on] == pytest.approx(0.0, abs=0.01)
    for one in plan.first_exchanges:
        assert costs[one.day] == pytest.approx(one.cost - plan.cost.total, abs=0.05)


def test_the_loaded_black_may_be_printed_before_the_exchange() -> None:
    """Both are wanted by today: an hour of matte, the changeover, an hour of photo. Tomorrow the photo one is 30 late."""
    both = [order("a", promised=0, late_cost_per_day=30.0), order("b", "photo", promised=0, late_cost_per_day=30.0)]
    days = tried(*both)
    assert (days[0].chance, days[0].more.value) == (1.0, 0.0)
    assert days[1].more.value == pytest.approx(30.0, abs=1.0)


def test_orders_still_to_come_make_it_less_sure() -> None:
    orders = [order(f"{n}", "photo", minutes=20) for n in range(5)]
    chances = [max(one.chance for one in tried(*orders, weekly=weekly)) for weekly in (None, weeks(3))]
    assert chances[0] > chances[1]
    assert chances[1] < 0.9


def test_without_a_bench_day_no_day_is_tried() -> None:
    rule = standing_rule(FLOW)
    assert rule is not None
    futures = Futures(Arrivals(weeks(1), 5.0), (sure(1.0), sure(1.0)), (Attempts(), Attempts()), 20.0)
    assert days_tried([], "matte", TERMS, rule, FLOW, futures, TODAY, ()) == ()
