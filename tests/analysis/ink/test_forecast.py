"""How far an ink reaches."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.draws import Draws
from logbook.analysis.ink.fit import InkFit
from logbook.analysis.ink.forecast import Level, days_left, level_now, square_metres_left, weekly_ml
from logbook.analysis.numeric.interval import Interval
from tests.analysis.ink.hand import HOUR, MATTE, Hand

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


# By hand, on rates that are given

LAMP = ("matte", "photo")


def _fit(
    ink: str, at_hours: list[float], column: list[int], amount: list[float], event: list[int], spread: float = 0.0
) -> InkFit:
    """2 ml per m², 7 ml a changeover."""
    draws = Draws(
        ink,
        (MATTE, LAMP),
        np.array(at_hours) * HOUR,
        np.array(column, dtype=np.int64),
        np.array(amount),
        np.array(event, dtype=np.int64),
        (),
    )
    unknown = (Interval(2.0, 2.0, 2.0), Interval(7.0, 7.0, 7.0))
    return InkFit(draws, (), (), np.array([2.0, 7.0]), unknown, np.zeros((2, 2)), spread)


def test_the_level_counts_what_was_drawn_after_the_reading_and_up_to_now() -> None:
    """60 % of 200 ml; 3 m² and a changeover since: 120 - 6 - 7. A step of 2 % is 4 ml: 16 / 12 from rounding; prints
    differ by 0.5 ml per m²: 0.25 * (1 + 4)."""
    hand = Hand("cyan", step=2.0)
    hand.cartridge("cyan", ml=200.0)
    for hour, area in ((1, 4.0), (3, 1.0), (4, 2.0), (9, 5.0)):
        hand.print(hour, area)
    hand.read(2, cyan=60.0)
    hand.read(8, cyan=1.0)
    fit = _fit("cyan", [1, 2, 3, 4, 5, 9], [0, 1, 0, 0, 1, 0], [4.0, 1.0, 1.0, 2.0, 1.0, 5.0], [0, 4, 1, 2, 5, 3], spread=0.5)
    found = level_now(hand.log(), fit, 5 * HOUR)
    assert found is not None
    assert (found.ml, found.nominal_ml) == (107.0, 200.0)
    assert found.sd == pytest.approx((16 / 12 + 0.25 * 5) ** 0.5)


def test_a_cartridge_put_in_at_this_moment_is_in_and_one_of_the_future_is_not() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", 5, ml=80.0, start=50.0)
    hand.cartridge("cyan", 9, ml=90.0)
    found = level_now(hand.log(), _fit("cyan", [], [], [], []), 5 * HOUR)
    assert found == Level(40.0, 0.0, 80.0)
    assert level_now(hand.log(), _fit("cyan", [], [], [], []), 4 * HOUR) is None


def test_a_start_that_does_not_count_gives_no_level_before_the_first_reading() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", 1, start=None)
    hand.read(3, cyan=44.0)
    fit = _fit("cyan", [], [], [], [])
    assert level_now(hand.log(), fit, 2 * HOUR) is None
    found = level_now(hand.log(), fit, 3 * HOUR)
    assert found is not None and found.ml == 44.0


def test_a_level_is_never_below_nothing() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=10.0)
    found = level_now(hand.log(), _fit("cyan", [1], [0], [6.0], [0]), 2 * HOUR)
    assert found is not None and found.ml == 0.0


def test_square_metres_by_hand() -> None:
    """Relative errors: 1.645 * 3 / 30 of the level, ln(1.6 / 1.5) and ln(1.5 / 1.4) of the rate."""
    found = square_metres_left(Level(30.0, 3.0, 100.0), Interval(1.5, 1.4, 1.6))
    assert found is not None
    assert [found.value, found.low, found.high] == pytest.approx([20.0, 16.7607, 23.9053], abs=1e-3)


def test_days_by_hand() -> None:
    """Ten weeks at 2 ml: variance 1 / (4 * 10) + 1 / (3 * 4), and 0.01 of the level; 1.645 * sqrt(ln(1 + that)) either way."""
    exact = days_left(Level(20.0, 0.0, 100.0), np.array([1.0, 2.0, 3.0]))
    unsure = days_left(Level(20.0, 2.0, 100.0), np.array([1.0, 2.0, 3.0]))
    assert exact is not None and unsure is not None
    assert [exact.value, exact.low, exact.high] == pytest.approx([70.0, 41.304, 118.633], abs=2e-3)
    reach = np.exp(1.6448536 * np.sqrt(np.log1p(1 / 40 + 1 / 12 + 0.01)))
    assert [unsure.low, unsure.high] == pytest.approx([70 / reach, 70 * reach])
    assert days_left(Level(0.0, 2.0, 100.0), np.array([1.0, 2.0, 3.0])) == Interval(0.0, 0.0, 0.0)


def test_whole_weeks_of_the_log_are_counted_up_to_thirteen_the_oldest_first() -> None:
    hours = [float(24 * 7 * week + 12) for week in range(20)]
    fit = _fit("cyan", hours, [0] * 20, [float(n) for n in range(20)], list(range(20)))
    weeks = weekly_ml(fit, 20 * 7 * 24 * HOUR)
    assert weeks.tolist() == [2.0 * n for n in range(7, 20)]
    assert weekly_ml(fit, (3 * 7 * 24 + 13) * HOUR).tolist() == [2.0, 4.0, 6.0]
    assert weekly_ml(fit, 13 * HOUR).tolist() == []
    assert weekly_ml(fit, 1 * HOUR).tolist() == []
