"""How far an ink reaches."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink import fit_inks
from logbook.analysis.ink_forecast import Demand, Level, days_left, level_now, missed, square_metres_left, weekly_ml
from logbook.analysis.numeric.interval import Interval
from tests.analysis.ink_hand import HOUR, Hand

DAY = 24.0


def test_the_level_now_is_the_last_reading_less_what_was_drawn_since() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=200.0)
    for turn in range(4):
        hand.print(10 * turn, 2.0)
        hand.read(10 * turn + 1, cyan=100.0 - 2.0 * (turn + 1))
    hand.print(50, 3.0)
    log = hand.log()
    found = level_now(log, fit_inks(log).fits["cyan"], 60 * HOUR)
    assert found is not None
    assert found.ml == pytest.approx(200 * 0.92 - 3 * 2.0, abs=0.05)
    assert found.sd > 0.0


def test_a_new_cartridge_holds_what_it_started_with() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=200.0)
    hand.read(1, cyan=10.0)
    hand.cartridge("cyan", 5, ml=80.0, start=60.0)
    log = hand.log()
    found = level_now(log, fit_inks(log).fits["cyan"], 6 * HOUR)
    assert found == Level(48.0, 0.0, 80.0)


def test_no_cartridge_no_level() -> None:
    log = Hand("cyan").log()
    assert level_now(log, fit_inks(log).fits["cyan"], 0.0) is None


def test_square_metres_carry_both_errors() -> None:
    exact = square_metres_left(Level(30.0, 0.0, 100.0), Interval(1.5, 1.4, 1.6))
    unsure = square_metres_left(Level(30.0, 3.0, 100.0), Interval(1.5, 1.4, 1.6))
    assert exact is not None and unsure is not None
    assert (exact.low, exact.high) == pytest.approx((30 / 1.6, 30 / 1.4))
    assert unsure.low < exact.low and unsure.high > exact.high


def test_a_rate_that_may_be_nothing_promises_no_square_metres() -> None:
    assert square_metres_left(Level(30.0, 0.0, 100.0), Interval(0.1, 0.0, 0.3)) is None
    assert square_metres_left(Level(0.0, 1.0, 100.0), Interval(1.0, 0.9, 1.1)) == Interval(0.0, 0.0, 0.0)


def test_weeks_are_counted_back_from_now() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=1_000.0)
    for day in range(40):
        hand.print(DAY * day, 1.0)
        hand.read(DAY * day + 1, cyan=100.0 - 0.2 * (day + 1))
    log = hand.log()
    weeks = weekly_ml(fit_inks(log).fits["cyan"], 40 * DAY * HOUR)
    assert weeks == pytest.approx(np.full(5, 14.0), abs=0.1)


def test_too_few_weeks_give_no_date() -> None:
    assert days_left(Level(30.0, 0.0, 100.0), np.array([2.0, 3.0])) is None
    assert days_left(Level(30.0, 0.0, 100.0), np.zeros(10)) is None


def test_the_interval_of_the_days_holds_the_truth() -> None:
    """Weeks drawn at random from one pace; the level runs out when their sum passes it."""
    rng = np.random.default_rng(12)
    held = 0
    for _ in range(400):
        past = rng.gamma(4.0, 1.0, 13)
        found = days_left(Level(60.0, 0.0, 100.0), past)
        assert found is not None
        future = np.cumsum(rng.gamma(4.0, 1.0, 200))
        week = int(np.searchsorted(future, 60.0))
        before = future[week - 1] if week else 0.0
        truth = 7 * (week + (60.0 - before) / (future[week] - before))
        held += found.low <= truth <= found.high
    # Three standard errors on either side of 0.9.
    assert 0.855 < held / 400 < 0.955


def test_orders_after_one_that_is_missed_may_still_be_reached() -> None:
    demands = [Demand("a", 30.0), Demand("b", 80.0), Demand("c", 20.0)]
    assert missed(Level(60.0, 0.0, 100.0), demands) == ("b",)
    assert missed(Level(10.0, 0.0, 100.0), demands) == ("a", "b", "c")
    assert missed(Level(60.0, 0.0, 100.0), []) == ()
