"""What the ink answers lend to the batch plan and the month: prices, costs, and how far each ink reaches."""

from __future__ import annotations

import datetime as dt

import msgspec
import pytest

from logbook.records import Cartridge, Printer
from logbook.reports.ink import use as ink_use
from logbook.reports.ink.columns import price_per_ml
from logbook.reports.ink.review import review
from logbook.snapshot import take
from logbook.store import Store, journal
from tests.reports.ink.story import RATE, TODAY, bench, order, two_months
from tests.studio import only


@pytest.fixture
def written(store: Store) -> Store:
    """Two months of ink."""
    two_months().write(store)
    return store


def test_the_newest_priced_cartridge_says_the_price(written: Store) -> None:
    printer = only(written, Printer)
    assert price_per_ml(take(written), printer) == {"matte_black": 0.5, "photo_black": 0.6, "cyan": 0.2}
    newer = Cartridge(
        id="c2", printer="one", ink="cyan", installed=dt.datetime(2026, 11, 20, tzinfo=dt.UTC), nominal_ml=100, price=35
    )
    journal.write(written, "a cartridge", save=[newer])
    assert price_per_ml(take(written), printer)["cyan"] == 0.35


def test_cost_by_direction(written: Store) -> None:
    costs = ink_use.changeover_cost(take(written, TODAY), "one")
    assert costs["matte", "photo"].value == pytest.approx(6.2, abs=0.1)
    assert costs["photo", "matte"].value == pytest.approx(7.2, abs=0.1)


def test_an_unknown_printer_has_nothing(store: Store) -> None:
    assert ink_use.changeover_cost(take(store, TODAY), "none") == {}
    assert ink_use.forecast(take(store, TODAY), "none") == ()


def test_how_far_each_ink_reaches(written: Store) -> None:
    story = two_months()
    reach = {one.ink: one for one in ink_use.forecast(take(written, TODAY), "one")}
    assert list(reach) == ["matte_black", "photo_black", "cyan"]
    for ink, one in reach.items():
        ml = story.level[ink] * (2.0 if ink == "cyan" else 1.0)
        assert one.level_ml == pytest.approx(ml, abs=0.1)
        assert one.m2_left is not None and one.prints_left is not None
        assert one.m2_left.low <= ml / RATE[ink] <= one.m2_left.high
        # Every print is a square metre.
        assert one.prints_left == one.m2_left
        assert one.runs_out is not None
        assert TODAY <= one.runs_out.low <= one.runs_out.value <= one.runs_out.high


def test_the_same_columns_are_fitted_once(written: Store) -> None:
    printer = only(written, Printer)
    assert ink_use.ink_use_of(take(written), printer) is ink_use.ink_use_of(take(written), printer)
    coarser = msgspec.structs.replace(printer, gauge_step_percent=1.0)
    assert ink_use.ink_use_of(take(written), coarser) is not ink_use.ink_use_of(take(written), printer)


def test_orders_that_an_ink_does_not_reach_are_those_of_the_plan(written: Store) -> None:
    """Photo black is enough for one of two orders, less what bringing it in takes; cyan for both."""
    left = {one.ink: one.level_ml for one in ink_use.forecast(take(written, TODAY), "one")}
    enough = int((left["photo_black"] - 9.0) / 3.0)
    journal.write(written, "orders", save=[bench(), order("a", enough, "photo"), order("b", 2, "photo"), order("c", 1, "matte")])
    missed = {row.level.ink: row.missed for row in review(take(written, TODAY)).levels}
    assert missed["photo_black"] == ("b",)
    assert missed["matte_black"] == missed["cyan"] == ()
