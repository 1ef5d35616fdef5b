"""What the batch answer counts with: bench times, arrivals and the costs of changeovers, typed or out of the log."""

from __future__ import annotations

import datetime as dt

import msgspec
import pytest

from logbook.analysis.numeric.interval import Interval
from logbook.records import Changeover, Judgement, PerBlack
from logbook.reports.batch import text as batch_text
from logbook.reports.batch.basis import flow_of
from logbook.reports.ink import use as ink_use
from logbook.store import Store, journal
from tests import studio
from tests.reports.batch.log import BENCH, TODAY, answered, logged, order


def test_without_a_bench_a_usual_one_is_counted_with_and_named(store: Store) -> None:
    logged(store, order("a"), bench=None)
    assert "No bench times are noted, so Monday to Friday is taken, 240 minutes" in batch_text.as_text(answered(store))


def test_without_a_bench_weekday_nothing_is_planned(store: Store) -> None:
    logged(store, order("a"), order("b", black="photo"), bench=msgspec.structs.replace(BENCH, weekdays=()))
    answer = answered(store)
    assert (answer.plan, set(answer.left_out), answer.cost_if_exchanged_today) == ((), {"a", "b"}, None)
    assert "No weekday is a bench day, so nothing can be planned." in batch_text.as_text(answer)


def test_an_order_longer_than_a_day_is_named(store: Store) -> None:
    logged(store, order("a", 10))
    assert "1 order longer than a bench day has a whole one to itself." in answered(store).notes


def test_where_more_arrives_than_fits_there_is_no_rule(store: Store) -> None:
    logged(store, bench=msgspec.structs.replace(BENCH, prints_per_bench_day=PerBlack(matte=5, photo=4)))
    answer = answered(store)
    assert answer.rule is not None and not answer.has_rule
    assert set(answer.rule.matte) == {None}
    assert any("no standing rule can keep up" in note for note in answer.notes)


def test_the_break_even_is_the_rules_own_figure_at_todays_count(store: Store) -> None:
    logged(store, order("a", 3), order("b", 4, black="photo", promised=20))
    answer = answered(store)
    assert answer.rule is not None and answer.has_rule
    assert answer.break_even_prints == answer.rule.matte[3]


def test_arrivals_are_the_orders_taken_where_the_bench_does_not_say(store: Store) -> None:
    """Eight weeks of one order each: 3 matte prints a week on five bench days; the one called off asked for nothing."""
    weekly = [order(f"{week}", 3, taken=TODAY - dt.timedelta(days=7 * week + 6), done=TODAY) for week in range(8)]
    off = order("off", 40, taken=TODAY - dt.timedelta(days=9), cancelled=TODAY)
    logged(store, *weekly, off, bench=msgspec.structs.replace(BENCH, prints_per_bench_day=None))
    basis = answered(store).basis
    assert (basis.orders_counted, basis.weeks_counted, basis.season) == (8, 8, 1.0)
    assert basis.prints_per_bench_day is not None
    assert basis.prints_per_bench_day["matte"].value == pytest.approx(3 / 5)
    assert basis.prints_per_bench_day["photo"] == Interval(0.0, 0.0, 0.0)


def test_below_four_weeks_of_orders_there_is_no_rule(store: Store) -> None:
    logged(store, order("a"), bench=msgspec.structs.replace(BENCH, prints_per_bench_day=None))
    answer = answered(store)
    assert (answer.basis.prints_per_bench_day, answer.has_rule, answer.likely) == (None, False, ())
    assert any("needs four weeks of logged orders" in note for note in answer.notes)


def test_attempts_count_in_minutes_and_in_the_rules_room(store: Store) -> None:
    """Twelve kept of twenty: a keeper takes 1.67 prints, so that six take 200 minutes and not 120."""
    logged(store, order("a", 6), bench=msgspec.structs.replace(BENCH, minutes_per_day=240))
    studio.print_out(store, *(studio.sheet(f"p{number}", hours=-24 * 9 + number) for number in range(20)))
    at = studio.MORNING
    seen = [Judgement(id=f"j{n}", print=f"p{n}", at=at, verdict="keep" if n < 12 else "redo") for n in range(20)]
    journal.write(store, "judged", save=seen)
    answer = answered(store)
    assert answer.attempts.photo == 1.0
    assert answer.attempts.matte == pytest.approx(20 / 12)
    assert answer.plan[0].minutes == pytest.approx(6 * 20 * 20 / 12)
    flow = flow_of(answer.basis)
    assert flow is not None and (flow.room, flow.room_after_exchange) == ((7, 12), (6, 10))
    assert "A keeper takes 1.7 matte (" in " ".join(batch_text.as_text(answer).split())


def test_what_was_done_today_is_gone_from_the_day(store: Store) -> None:
    """Two prints and a changeover that took 55 minutes: 25 of 120 are left, too few for another."""
    change = Changeover(id="c", printer="printer", at=studio.MORNING, from_black="matte", to_black="photo", minutes=55)
    logged(store, order("a", promised=0, late_cost_per_day=90.0), order("b", 1, black="photo"), change)
    glossy = (studio.sheet(f"g{number}", hours=1 + number, paper="baryta", stock="glossy-roll") for number in range(2))
    studio.print_out(store, *glossy)
    answer = answered(store)
    assert answer.basis.used_today == 95.0
    assert answer.cost_if_exchanged_today is None
    assert (answer.verdict, answer.exchange_on) == ("wait", TODAY + dt.timedelta(days=1))
    assert answer.plan[0].orders == ("b",)


def test_one_priced_direction_prices_the_way_back(store: Store) -> None:
    logged(store, bench=msgspec.structs.replace(BENCH, changeover_cost={"photo->matte": 12.0}))
    answer = answered(store)
    assert {way: cost.value for way, cost in answer.basis.changeover_cost.items()} == {"photo->matte": 12.0, "matte->photo": 12.0}
    assert "Only the changeover to matte is priced; the way back is taken to cost the same." in answer.notes


def priced(cost: Interval, monkeypatch: pytest.MonkeyPatch) -> None:
    """An ink analysis that says this of either direction."""
    costs = {("matte", "photo"): cost, ("photo", "matte"): cost}
    monkeypatch.setattr(ink_use, "changeover_cost", lambda store, printer: costs)


def test_what_a_changeover_costs_is_told_with_its_interval(store: Store, monkeypatch: pytest.MonkeyPatch) -> None:
    priced(Interval(20.0, 18.0, 60.0), monkeypatch)
    logged(store, order("b", 3, black="photo"), bench=msgspec.structs.replace(BENCH, changeover_cost=None))
    answer = answered(store)
    assert "A changeover and back costs 40.00 (36 to 120)" in batch_text.as_text(answer)
    assert answer.break_even_between is not None and answer.break_even_between[0] != answer.break_even_between[1]
