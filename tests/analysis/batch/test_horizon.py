"""How many days a plan may need: plans worked out by hand, and no day too few."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace

import pytest

import logbook.analysis.batch.plan as batch
from logbook.analysis.batch.horizon import Known, bench_days_needed, known_plan
from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.problem import Problem, Terms
from tests.analysis.batch.instances import TODAY, drawn
from tests.analysis.batch.test_plan import order

TERMS = Terms(240.0, 50.0, 36.0, 35.0)


def _problem(*orders: OpenOrder, days: tuple[int, ...] = (0, 1, 2, 5), terms: Terms = TERMS) -> Problem:
    return Problem(orders, "matte", terms, TODAY, tuple(TODAY + dt.timedelta(days=day) for day in days))


# Two matte orders that leave no room beside a changeover, and a photo order that waits at 1 a day.
THREE = order("a", minutes=200), order("b", minutes=200), order("c", "photo", wait_cost_per_day=1.0)


@pytest.mark.parametrize(
    ("first", "money", "days"),
    [
        (0, 35 + 36, 4),  # c, back again with nothing beside, a, b
        (1, 35 + 36 + 1, 4),  # a, c, back, b
        (2, 35 + 2, 3),  # a, b, c
        (3, 35 + 5, 4),  # a, b, nothing, c on the Monday
    ],
)
def test_a_known_plan_exchanges_on_its_day_and_back_where_it_must(first: int, money: float, days: int) -> None:
    problem = _problem(*THREE)
    known = known_plan(problem, first)
    assert known is not None
    assert [known.cost / problem.scale, known.days] == pytest.approx([money, days])


def test_a_day_with_a_changeover_is_filled_on_both_sides_of_it() -> None:
    """190 minutes: 60 of matte, then 60 and 60 of photo fit, a third photo order does not."""
    problem = _problem(order("a"), *(order(name, "photo", wait_cost_per_day=1.0) for name in "bcd"))
    assert known_plan(problem, 0) == Known(round(36 * problem.scale), 2)


def test_a_plan_that_takes_more_days_than_there_are_is_not_known() -> None:
    assert known_plan(_problem(*THREE), 4) is None
    assert known_plan(_problem(*THREE, days=(0, 1)), 1) is None
    assert bench_days_needed(_problem(*THREE, days=(0, 1)), 1, 1) == 2


def test_nothing_to_print_takes_no_day() -> None:
    assert known_plan(_problem(), 0) == Known(0, 0)


WEEKS = tuple(range(60))


def test_days_end_where_every_order_would_be_dearer_than_a_known_plan() -> None:
    """One matte order, 10 a day late. Exchanging today and back tomorrow brings 71 and one day late (nothing fits
    beside a changeover): 2 days late, 91, are needed; day 10 would cost 100 by itself.
    """
    late = order("a", minutes=200, promised=0, late_cost_per_day=10.0)
    problem = _problem(late, days=WEEKS)
    known = known_plan(problem, 0)
    assert known is not None and known.cost / problem.scale == pytest.approx(91.0)
    assert bench_days_needed(problem, 1, 1) == 3


def test_no_more_days_are_looked_at_than_there_is_work_for() -> None:
    """Nothing is ever late: two orders and at most one changeover, and one day more for the days compared."""
    problem = _problem(order("a", minutes=200), order("b", minutes=200), days=WEEKS)
    assert bench_days_needed(problem, 1, 1) == 4


def test_days_past_those_needed_change_no_plan(monkeypatch: pytest.MonkeyPatch) -> None:
    instances = [drawn(seed, most_orders=5) for seed in range(500, 560)]
    instances = [replace(one, days=tuple(TODAY + dt.timedelta(days=n) for n in range(25))) for one in instances]
    cut = [one.plan() for one in instances]
    monkeypatch.setattr(batch, "bench_days_needed", lambda problem, compared, latest: len(problem.days))
    for one, plan in zip(instances, cut, strict=True):
        whole = one.plan()
        assert plan.cost.total == pytest.approx(whole.cost.total)
        assert plan.entries == whole.entries
        assert [first.cost for first in plan.first_exchanges] == pytest.approx([first.cost for first in whole.first_exchanges])


def test_a_day_on_which_nothing_can_be_cheaper_any_more_is_not_needed() -> None:
    """Ten orders, each 100 a day late: nine before the changeover, back again, the last on the second day, for 200.
    On the third day the least late one would cost as much by itself, on the fourth more.
    """
    late = [order(f"{n}", minutes=20, promised=0, late_cost_per_day=100.0) for n in range(10)]
    problem = _problem(*late, days=WEEKS, terms=Terms(240.0, 50.0, 36.0, 64.0))
    assert known_plan(problem, 0) == Known(round(200 * problem.scale), 2)
    assert bench_days_needed(problem, 1, 1) == 3


def test_each_order_and_each_exchange_may_take_a_day() -> None:
    """Three orders, at most there, back and there again, and the days compared."""
    problem = _problem(order("a", minutes=200), order("b", minutes=200), order("c", "photo"), days=WEEKS)
    assert bench_days_needed(problem, 1, 1) == 3 + 3 + 1


def test_exchanges_that_cost_nothing_are_as_many_as_the_fewer_orders_allow() -> None:
    problem = _problem(*THREE, days=WEEKS, terms=Terms(240.0, 50.0, 0.0, 0.0))
    assert bench_days_needed(problem, 2, 2) == 3 + 3 + 2
