"""Whether orders keep their dates: worked by hand where nothing is unknown, by simulation where it is."""

from __future__ import annotations

import datetime as dt
from dataclasses import replace
from itertools import islice

import pytest
from scipy import stats

from logbook.analysis.batch.attempts import Attempts
from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.plan import plan_batches
from logbook.analysis.batch.problem import Terms
from logbook.analysis.batch.promises import Keeping, Promises, Supply
from tests.analysis.batch.instances import TODAY
from tests.analysis.batch.test_plan import order

TERMS = Terms(240.0, 50.0, 27.0, 28.0)
DAYS = tuple(islice(bench_days(TODAY, {1, 2, 3, 4, 5}), 60))
ONCE = {"matte": Attempts(), "photo": Attempts()}


def kept(
    *orders: OpenOrder, attempts: dict[str, Attempts] | None = None, supplies: tuple[Supply, ...] = (), terms: Terms = TERMS
) -> dict[str, Keeping]:
    plan = plan_batches(orders, "matte", terms, TODAY, DAYS)
    return Promises(orders, plan.entries, "matte", terms, attempts or ONCE, supplies, TODAY, DAYS).keeping()  # type: ignore[arg-type]


def test_where_nothing_is_made_twice_the_plan_is_what_happens() -> None:
    found = kept(order("a", promised=0), order("b", "photo", promised=8), order("c", "photo", promised=-1), order("d"))
    assert [found[name].chance for name in "abcd"] == [1.0, 1.0, 0.0, None]


def test_the_latest_safe_day_leaves_time_for_the_exchange_and_the_work() -> None:
    """190 minutes are left beside the changeover. Wed 2 Dec is the last day; 300 minutes take a second one, the day before."""
    promised = 7
    short = kept(order("a", "photo", minutes=190, promised=promised))["a"]
    long = kept(order("a", "photo", minutes=240, promised=promised), order("b", "photo", minutes=60, promised=promised))
    assert short.latest == TODAY + dt.timedelta(days=7)
    assert (long["a"].latest, long["b"].latest) == (TODAY + dt.timedelta(days=6),) * 2
    assert kept(order("a", promised=3))["a"].latest is None


def test_a_day_that_is_half_gone_is_no_safe_day_for_a_whole_batch() -> None:
    late = order("a", "photo", minutes=150, promised=0)
    assert kept(late)["a"].latest == TODAY
    assert kept(late, terms=replace(TERMS, used_today=100.0))["a"].latest is None


def test_attempts_make_a_promise_less_than_sure_by_as_much_as_chance_says() -> None:
    """Four keepers at 30 minutes each, half of all prints kept; today holds 8 attempts: a binomial's chance of 4 in 8."""
    attempts = {"matte": Attempts(20_000, 10_000), "photo": Attempts()}
    four = order("a", minutes=240, promised=0, prints=4)
    assert kept(four, attempts=attempts)["a"].chance == pytest.approx(1 - stats.binom.cdf(3, 8, 0.5), abs=0.04)


def test_paper_and_ink_that_do_not_reach_are_named_and_counted() -> None:
    """Five sheets, two orders of three: the second is short of one. The changeover takes 40 ml of 45."""
    sheets = Supply("Ropewalk Card", 5.0, {"a": 1.0, "b": 1.0}, {})
    ink = Supply("cyan", 45.0, {"c": 3.0}, {"photo": 40.0})
    orders = [order(name, promised=9, prints=3) for name in "ab"] + [order("c", "photo", promised=9, prints=2)]
    found = kept(*orders, supplies=(sheets, ink))
    assert [found[name].chance for name in "abc"] == [1.0, 0.0, 0.0]
    assert [found[name].short for name in "abc"] == [(), ("Ropewalk Card",), ("cyan",)]
