"""The plan: exact against all plans there are, and sound in its properties."""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import replace

import msgspec
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.entries import PlanCost
from logbook.analysis.batch.open_order import OpenOrder, sequence_key
from logbook.analysis.batch.plan import BatchPlan, plan_batches
from logbook.analysis.batch.problem import Terms
from tests.analysis.batch.instances import TODAY, Instance, drawn, every_plan

TERMS = Terms(240.0, 50.0, 36.0, 35.0)
WEEK = (1, 2, 3, 4, 5)


def order(name: str, black: str = "matte", minutes: float = 60, promised: int | None = None, **more: object) -> OpenOrder:
    date = None if promised is None else TODAY + dt.timedelta(days=promised)
    dates = {"taken": TODAY, "promised": date, "free_until": date}
    fields = {"id": name, "black": black, "prints": 1, "minutes": minutes, **dates, **more}
    return msgspec.convert(fields, OpenOrder)


replaced = msgspec.structs.replace


def plan_of(*orders: OpenOrder, terms: Terms = TERMS, weekdays: tuple[int, ...] = WEEK) -> BatchPlan:
    return plan_batches(orders, "matte", terms, TODAY, bench_days(TODAY, weekdays))


def changeovers(plan: BatchPlan) -> int:
    return sum(entry.changeover for entry in plan.entries)


@pytest.mark.parametrize("start", range(0, 140, 20))
def test_no_plan_is_better_than_the_one_found(start: int) -> None:
    for seed in range(start, start + 20):
        instance = drawn(seed)
        plan, best = instance.plan(), every_plan(instance)
        finished = max(instance.days.index(entry.date) for entry in plan.entries if entry.orders) + 1
        assert plan.cost.total == pytest.approx(best.cost, abs=1e-6), seed
        first = None if plan.exchange_on is None else instance.days.index(plan.exchange_on)
        assert changeovers(plan) == best.changeovers, seed
        if all(one.late_cost_per_day + one.wait_cost_per_day > 0 for one in instance.orders):
            # An order that may wait for ever names no latest day.
            assert (first, finished) == (best.first, best.finished), seed
        for one in plan.first_exchanges:
            least = best.first_exchanges[instance.days.index(one.day)]
            assert one.cost == pytest.approx(least, abs=1e-6), (seed, one.day)
        assert plan.first_exchanges or best.first_exchanges[0] == math.inf, seed


instances = st.integers(10_000, 30_000).map(lambda seed: drawn(seed, most_orders=9))


@given(instances)
@settings(max_examples=40, deadline=None)
def test_a_plan_can_be_carried_out(instance: Instance) -> None:
    plan = instance.plan()
    loaded, printed = instance.loaded, []
    for day in sorted({entry.date for entry in plan.entries}):
        entries = [entry for entry in plan.entries if entry.date == day]
        assert sum(entry.changeover for entry in entries) <= 1
        assert [entry.black for entry in entries if not entry.changeover] in ([], [loaded])
        together = sum(len(entry.orders) + entry.changeover for entry in entries)
        assert together == 1 or sum(entry.minutes for entry in entries) <= instance.terms.minutes_per_day + 1e-6
        loaded = entries[-1].black
        printed += [name for entry in entries for name in entry.orders]
    for black in ("matte", "photo"):
        wanted = [one.id for one in sorted(instance.orders, key=sequence_key) if one.black == black]
        assert [name for name in printed if name in wanted] == wanted


@given(instances, st.floats(0, 50))
@settings(max_examples=40, deadline=None)
def test_dearer_changeovers_never_bring_more_of_them(instance: Instance, more: float) -> None:
    terms = instance.terms
    dearer = replace(terms, cost_to_matte=terms.cost_to_matte + more, cost_to_photo=terms.cost_to_photo + more)
    plan, other = instance.plan(), replace(instance, terms=dearer).plan()
    assert changeovers(other) <= changeovers(plan)
    assert other.cost.total >= plan.cost.total - 1e-6


@given(instances)
@settings(max_examples=40, deadline=None)
def test_an_order_less_never_costs_more(instance: Instance) -> None:
    fewer = replace(instance, orders=instance.orders[1:])
    assert fewer.plan().cost.total <= instance.plan().cost.total + 1e-6


@given(instances, st.floats(0, 200))
@settings(max_examples=40, deadline=None)
def test_a_longer_bench_day_never_costs_more(instance: Instance, more: float) -> None:
    longer = replace(instance, terms=replace(instance.terms, minutes_per_day=instance.terms.minutes_per_day + more))
    assert longer.plan().cost.total <= instance.plan().cost.total + 1e-6


@given(instances, st.randoms())
@settings(max_examples=30, deadline=None)
def test_the_plan_repeats_exactly_whatever_the_order_of_entry(instance: Instance, shuffle: object) -> None:
    shuffled = list(instance.orders)
    shuffle.shuffle(shuffled)  # type: ignore[attr-defined]
    assert replace(instance, orders=tuple(shuffled)).plan() == instance.plan()


@given(instances)
@settings(max_examples=30, deadline=None)
def test_the_first_exchange_of_the_plan_is_the_cheapest_of_those_compared(instance: Instance) -> None:
    plan = instance.plan()
    days = {one.day: one.cost for one in plan.first_exchanges}
    assert min(days.values(), default=plan.cost.total) >= plan.cost.total - 1e-6
    if plan.exchange_on in days:
        assert days[plan.exchange_on] == pytest.approx(plan.cost.total, abs=1e-6)


def test_nothing_is_flushed_before_a_date_asks_for_it() -> None:
    plan = plan_of(order("a", minutes=200), order("b", minutes=200), order("c", "photo", promised=20))
    assert plan.exchange_on == dt.date(2026, 12, 15)
    assert plan.cost.total == 35.0


def test_an_order_without_a_date_is_waited_for_as_long_as_it_is_free() -> None:
    plan = plan_of(order("c", "photo", free_until=TODAY + dt.timedelta(days=12)))
    assert (plan.exchange_on, plan.cost.total) == (dt.date(2026, 12, 7), 35.0)
    late = plan_of(order("c", "photo", free_until=TODAY - dt.timedelta(days=2)))
    assert (late.exchange_on, late.cost.late, late.cost.waiting) == (TODAY, 0.0, 2.0)


def test_a_day_that_has_begun_has_what_is_left_of_it() -> None:
    begun = replace(TERMS, used_today=150.0)
    plan = plan_of(order("a", minutes=60), order("b", minutes=60), terms=begun)
    assert [(entry.date.day, entry.orders) for entry in plan.entries] == [(25, ("a",)), (26, ("b",))]
    # 90 minutes are left: the changeover and 40 of photo, no more; an order longer than a day needs a whole one.
    late = order("c", "photo", minutes=40, promised=0, late_cost_per_day=9.0)
    assert plan_of(late, terms=begun).exchange_on == TODAY
    assert plan_of(replaced(late, minutes=41), terms=begun).exchange_on == TODAY + dt.timedelta(days=1)
    assert plan_of(order("d", minutes=400), terms=begun).entries[0].date == TODAY + dt.timedelta(days=1)
    over = plan_of(late, terms=replace(TERMS, used_today=200.0))
    assert TODAY not in [one.day for one in over.first_exchanges]
    assert over.exchange_on == TODAY + dt.timedelta(days=1)


def test_a_dear_promise_brings_the_exchange_forward() -> None:
    plan = plan_of(order("a", minutes=200), order("b", minutes=200), order("c", "photo", promised=0, late_cost_per_day=100))
    assert plan.exchange_on == TODAY
    assert [entry.orders for entry in plan.entries if entry.date == TODAY] == [("c",)]


def test_an_order_longer_than_a_day_takes_a_whole_one_with_nothing_else() -> None:
    plan = plan_of(order("a", minutes=20), order("b", minutes=500), order("c", minutes=20))
    assert [(entry.orders, entry.minutes) for entry in plan.entries] == [(("a",), 20.0), (("b",), 500.0), (("c",), 20.0)]


def test_no_exchange_fits_beside_an_order_longer_than_a_day() -> None:
    plan = plan_of(order("a", "photo", minutes=500))
    assert [(entry.orders, entry.changeover) for entry in plan.entries] == [((), True), (("a",), False)]


def test_an_exchange_longer_than_a_day_takes_a_whole_one() -> None:
    plan = plan_of(order("a", "photo", minutes=20), terms=replace(TERMS, changeover_minutes=300))
    assert [(entry.date.day, entry.orders) for entry in plan.entries] == [(25, ()), (26, ("a",))]


def test_promised_in_the_past_costs_each_calendar_day() -> None:
    plan = plan_of(order("a", promised=-3, late_cost_per_day=2.0), weekdays=(5,))
    assert plan.cost.late == 10.0
    assert plan.entries[0].date == dt.date(2026, 11, 27)


def test_waiting_is_paid_from_today() -> None:
    plan = plan_of(order("a", wait_cost_per_day=0.5), weekdays=(1,))
    assert plan.cost.waiting == 2.5


def test_without_orders_there_is_nothing_to_do_but_the_price_of_exchanging_today_is_known() -> None:
    plan = plan_of()
    assert (plan.entries, plan.exchange_on, plan.cost.total) == ((), None, 0.0)
    assert [(one.day, one.cost) for one in plan.first_exchanges] == [(TODAY, 35.0)]


def test_without_a_bench_day_every_order_is_left_out() -> None:
    plan = plan_of(order("a"), order("b", "photo"), weekdays=())
    assert (plan.entries, set(plan.left_out)) == ((), {"a", "b"})


def test_a_calendar_that_ends_too_soon_keeps_what_was_promised_first() -> None:
    orders = [order(f"{number}", minutes=200, promised=number) for number in range(4)]
    plan = plan_batches(orders, "matte", TERMS, TODAY, [TODAY, TODAY + dt.timedelta(days=1)])
    assert [entry.orders for entry in plan.entries] == [("0",), ("1",)]
    assert plan.left_out == ("2", "3")


def test_of_ten_thousand_orders_the_last_promised_are_left_out() -> None:
    blacks = ("matte", "photo")
    many = [order(f"{number:05}", blacks[number % 2], 10 + number % 60, promised=number // 20) for number in range(10_000)]
    plan = plan_of(*many)
    planned = [name for entry in plan.entries for name in entry.orders]
    assert len(planned) + len(plan.left_out) == 10_000
    assert len(planned) >= 80
    assert set(planned) == {one.id for one in sorted(many, key=sequence_key)[: len(planned)]}


# Of equal plans


def test_of_equal_plans_the_one_that_exchanges_later_is_taken() -> None:
    """After the first order the changeover would fit, but the second order not beside it."""
    plan = plan_of(order("a", minutes=100), order("b", "photo", minutes=100))
    assert plan.exchange_on == TODAY + dt.timedelta(days=1)
    assert [entry.orders for entry in plan.entries] == [("a",), ("b",)]


def test_of_equal_plans_the_one_that_prints_sooner_is_taken() -> None:
    """c and d would fit together on the third day, after a changeover on a day of its own."""
    plan = plan_of(*(order(name, minutes=100) for name in "ab"), *(order(name, "photo", minutes=100) for name in "cd"))
    assert [entry.orders for entry in plan.entries] == [("a", "b"), ("c",), ("d",)]


def test_of_equal_plans_the_one_with_fewer_changeovers_is_taken_though_it_finishes_later() -> None:
    """Changeovers cost nothing here. Without the way back b fills the second day, and c needs a third."""
    free = replace(TERMS, cost_to_matte=0.0, cost_to_photo=0.0)
    plan = plan_of(order("a", minutes=100), order("b", minutes=190), order("c", "photo", minutes=90), terms=free)
    assert [entry.orders for entry in plan.entries] == [("a",), ("b",), ("c",)]
    assert (plan.entries[-1].date, changeovers(plan)) == (TODAY + dt.timedelta(days=2), 1)


def test_of_equal_plans_the_one_with_fewer_changeovers_is_taken_though_it_prints_later() -> None:
    """Changeovers cost nothing here. There, back and there again would print three orders two days sooner."""
    free = replace(TERMS, cost_to_matte=0.0, cost_to_photo=0.0)
    short = [order(name, "photo", minutes=30) for name in ("c", "d", "e")]
    plan = plan_of(order("a", minutes=100), order("b", minutes=190), *short, order("f", "photo", minutes=100), terms=free)
    assert [entry.orders for entry in plan.entries] == [("a",), ("b",), ("c", "d", "e", "f")]
    assert (plan.entries[-1].date, changeovers(plan)) == (TODAY + dt.timedelta(days=2), 1)


# The days compared


def test_exchanges_are_compared_up_to_the_last_promise_of_the_other_black() -> None:
    plan = plan_of(order("a"), order("b", "photo", promised=2), order("c", "photo", promised=20))
    days = [one.day for one in plan.first_exchanges]
    assert (len(days), days[0], days[-1]) == (15, TODAY, dt.date(2026, 12, 15))


def test_where_nothing_is_promised_they_are_compared_until_the_loaded_black_is_done_and_a_day_more() -> None:
    plan = plan_of(order("a", minutes=200), order("b", minutes=200), order("c", "photo"))
    assert [one.day.day for one in plan.first_exchanges] == [25, 26, 27]


def test_a_promise_years_away_compares_sixty_days() -> None:
    plan = plan_of(order("a"), order("b", "photo", promised=900))
    assert len(plan.first_exchanges) == 60


def test_putting_the_exchange_off_costs_what_is_then_late() -> None:
    """Matte a fits beside it today; b is promised today and 3 a day late; the weekend lies before the fourth day."""
    plan = plan_of(order("a"), order("b", "photo", promised=0, late_cost_per_day=3.0), order("c", "photo", promised=5))
    assert [(one.day.day, one.cost) for one in plan.first_exchanges] == [(25, 35.0), (26, 38.0), (27, 41.0), (30, 50.0)]


def test_waiting_of_the_loaded_black_is_paid_before_a_later_exchange() -> None:
    """Two days of matte at 0.5 a day: the second order waits one day whatever the day of the changeover after it."""
    matte = [order(name, minutes=240, wait_cost_per_day=0.5) for name in "ab"]
    plan = plan_of(*matte, order("c", "photo", promised=2))
    assert [(one.day.day, one.cost) for one in plan.first_exchanges][2] == (27, 35.5)
    assert plan.exchange_on == dt.date(2026, 11, 27)


def test_no_orders_cost_nothing_of_any_kind() -> None:
    assert plan_of().cost == PlanCost(total=0.0, changeovers=0.0, late=0.0, waiting=0.0)


def test_with_nothing_left_of_the_loaded_black_only_today_is_compared() -> None:
    assert [one.day for one in plan_of(order("a", "photo")).first_exchanges] == [TODAY]
