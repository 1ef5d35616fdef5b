"""What the batch answer counts with: bench times, arrivals and the costs of exchanges, typed or out of the log."""

from __future__ import annotations

import msgspec
import pytest

from logbook.analysis.numeric.interval import Interval
from logbook.records import PerBlack
from logbook.reports.batch import text as batch_text
from logbook.reports.ink import use as ink_use
from logbook.store import Store
from tests import studio
from tests.reports.batch.log import BENCH, answered, logged, order


def test_without_a_bench_a_usual_one_is_counted_with_and_named(store: Store) -> None:
    logged(store, order("a"), bench=None)
    assert "No bench is set up: counted with Monday to Friday, 240 minutes a day" in batch_text.as_text(answered(store))


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
    assert answer.rule.average_cost is None
    assert set(answer.rule.matte) == {None}
    assert any("no standing rule can keep up" in note for note in answer.notes)


def test_the_break_even_is_the_rules_own_figure_at_todays_count(store: Store) -> None:
    logged(store, order("a", 3), order("b", 4, black="photo", promised=20))
    answer = answered(store)
    assert answer.break_even_prints == answer.rule.matte[3]
    assert answer.rule.average_cost is not None


def test_arrivals_are_counted_from_the_log_where_the_bench_does_not_say(store: Store) -> None:
    logged(store, bench=msgspec.structs.replace(BENCH, prints_per_bench_day=None))
    studio.print_out(store, *(studio.sheet(f"p{day}", hours=-24 * day) for day in range(10)))
    basis = answered(store).basis
    assert (basis.prints_counted, basis.days_counted) == (10, 8)
    assert basis.prints_per_bench_day is not None
    assert basis.prints_per_bench_day["matte"].value == pytest.approx(10 / 8)
    assert basis.prints_per_bench_day["photo"].value == 0.0


def test_one_priced_direction_prices_the_way_back(store: Store) -> None:
    logged(store, bench=msgspec.structs.replace(BENCH, changeover_cost={"photo->matte": 12.0}))
    answer = answered(store)
    assert {way: cost.value for way, cost in answer.basis.changeover_cost.items()} == {"photo->matte": 12.0, "matte->photo": 12.0}
    assert "Only the exchange to matte is priced; the way back is taken to cost the same." in answer.notes


def priced(cost: Interval, monkeypatch: pytest.MonkeyPatch) -> None:
    """An ink analysis that says this of either direction."""
    costs = {("matte", "photo"): cost, ("photo", "matte"): cost}
    monkeypatch.setattr(ink_use, "changeover_cost", lambda store, printer: costs)


@pytest.mark.parametrize(("high", "flips"), [(22.0, False), (60.0, True)])
def test_a_verdict_that_another_cost_inside_the_interval_would_turn_is_called_unsafe(
    store: Store, monkeypatch: pytest.MonkeyPatch, high: float, flips: bool
) -> None:
    """Exchanging today costs a way back more, and saves a photo order 40 of lateness."""
    priced(Interval(20.0, 18.0, high), monkeypatch)
    photo = order("b", 3, black="photo", promised=0, late_cost_per_day=40.0)
    logged(store, order("a", 6), photo, bench=msgspec.structs.replace(BENCH, changeover_cost=None))
    answer = answered(store)
    assert answer.verdict == "due"
    assert [one.verdict for one in answer.otherwise] == ["due", "wait" if flips else "due"]
    said = " ".join(batch_text.as_text(answer).split())
    assert ("The verdict is not safe: if exchanges cost what the dearest end" in said) is flips
    assert f"An exchange there and back costs 40.00 (36 to {2 * high:.0f})" in said.replace("36.00 to 44.00", "36 to 44")
