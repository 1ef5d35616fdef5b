"""Where the ink went, on fits and uses that are given."""

from __future__ import annotations

import datetime as dt

import numpy as np
import pytest

from logbook.analysis.ink.account import Account, account, account_by_month, measured_ml
from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.draws import Draws
from logbook.analysis.ink.events import Span
from logbook.analysis.ink.fit import InkFit
from logbook.analysis.ink.log import Exchange
from logbook.analysis.ink.readings import Use
from logbook.analysis.numeric.interval import Interval
from tests.analysis.ink.hand import MATTE, Hand

OUT = ("matte", "photo")


def _at(month: int, day: int) -> float:
    return dt.datetime(2026, month, day, 12, tzinfo=dt.UTC).timestamp()


def _fit(fell: list[float], *, split: bool = False) -> InkFit:
    """Full on 1 January; 1 m² on the 10th, a changeover on the 20th, a reading on 2 February; a cleaning and 2 m² in
    February, a reading on 3 March. 2 ml a m², 7 a changeover, 3 a cleaning."""
    at = np.array([_at(1, 10), _at(1, 20), _at(2, 10), _at(2, 20)])
    columns = (MATTE, "light", OUT)
    draws = Draws("cyan", columns, at, np.array([0, 2, 1, 0]), np.array([1.0, 1.0, 1.0, 2.0]), np.arange(4), ())
    shared = Span(Exchange("x", _at(1, 1), *OUT), _at(1, 1), _at(1, 1), _at(1, 1), False)
    times = np.array([_at(1, 1), _at(2, 2), _at(3, 3)])
    use = Use("c", times, np.array([100.0, 90.0, 80.0]), np.array([0, 2, 4]), np.array(fell), shared if split else None)
    unknown = tuple(Interval(0.0, 0.0, float("inf")) for _ in columns)
    return InkFit(draws, (), (use,), np.array([2.0, 3.0, 7.0]), unknown, np.zeros((3, 3)), 0.0)


def test_the_parts_are_what_was_drawn_and_the_rest_is_unexplained() -> None:
    found = account(_fit([10.0, 12.0]))
    assert found == Account(used=22.0, prints=6.0, changeovers=7.0, cleanings=3.0)
    assert found.unexplained == 6.0


def test_draws_count_in_their_month_and_what_is_left_in_that_of_the_reading() -> None:
    """10 fell where 9 were drawn, 12 where 7 were."""
    assert account_by_month({"cyan": _fit([10.0, 12.0])}) == {
        "2026-01": Account(9.0, 2.0, 7.0, 0.0),
        "2026-02": Account(1.0 + 7.0, 4.0, 0.0, 3.0),
        "2026-03": Account(5.0, 0.0, 0.0, 0.0),
    }


def test_months_add_up_over_all_inks() -> None:
    both = account_by_month({"cyan": _fit([10.0, 12.0]), "grey": _fit([9.0, 7.0])})
    assert both["2026-01"] == Account(18.0, 4.0, 14.0, 0.0)
    assert both["2026-03"] == Account(5.0, 0.0, 0.0, 0.0)


@pytest.mark.parametrize(("fell", "paid"), [(14.0, 5.0), (30.0, 7.0), (8.0, 0.0)])
def test_a_cartridge_put_in_during_an_exchange_paid_what_fell_beyond_the_rest_up_to_a_whole_one(fell: float, paid: float) -> None:
    """9 of its first fall were drawn by others."""
    fit = _fit([fell, 7.0], split=True)
    assert account(fit).changeovers == 7.0 + paid
    months = account_by_month({"cyan": fit})
    assert months["2026-01"].changeovers == 7.0 + paid
    assert sum(month.used for month in months.values()) == pytest.approx(fell + 7.0)
    assert months["2026-02"].unexplained == pytest.approx(fell - 9.0 - paid)


def _measured(hand: Hand) -> float | None:
    use = fit_inks(hand.log())
    return measured_ml(use.log, use.fits, 0)


@pytest.mark.parametrize(("before", "after", "found"), [(4.0, 16.0, 5.0), (3.9, 16.0, None), (4.0, 16.1, None)])
def test_readings_up_to_six_hours_away_measure_an_exchange(before: float, after: float, found: float | None) -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.read(before, cyan=60.0)
    hand.exchange(10)
    hand.read(after, cyan=55.0)
    assert _measured(hand) == (None if found is None else pytest.approx(found))


def test_of_several_readings_the_nearest_measure_it() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=50.0)
    for hour, level in ((8, 90.0), (9, 80.0), (11, 70.0), (12, 60.0)):
        hand.read(hour, cyan=level)
    hand.exchange(10)
    assert _measured(hand) == pytest.approx(5.0)


@pytest.mark.parametrize("hour", [8.5, 11.5])
def test_a_print_between_a_reading_and_the_exchange_leaves_it_unmeasured(hour: float) -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.read(8, cyan=90.0)
    hand.print(hour)
    hand.exchange(10)
    hand.read(12, cyan=60.0)
    assert _measured(hand) is None


def test_a_print_before_the_reading_before_or_after_the_reading_after_does_not() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(7)
    hand.read(8, cyan=90.0)
    hand.exchange(10)
    hand.read(12, cyan=60.0)
    hand.print(13)
    assert _measured(hand) == pytest.approx(30.0)


def test_a_black_with_no_level_before_counts_from_the_last_that_is_known() -> None:
    hand = Hand("photo_black", "matte_black")
    hand.cartridge("photo_black", ml=200.0)
    hand.cartridge("matte_black")
    hand.read(0.5, photo_black=90.0)
    hand.read(1, photo_black=80.0, matte_black=50.0)
    hand.read(2, photo_black=70.0)
    before = hand.read(9, matte_black=40.0)
    after = hand.read(11, photo_black=64.0, matte_black=30.0)
    hand.exchange(10, before=before, after=after)
    assert _measured(hand) == pytest.approx(2 * 6.0)  # the outgoing matte black does not count


def test_a_cartridge_that_took_another_s_place_in_the_middle_leaves_it_unmeasured() -> None:
    """Of the 8 ml that cyan paid, the old cartridge's part was never read; grey alone would be half an answer."""
    hand = Hand("cyan", "grey")
    hand.cartridge("cyan")
    hand.cartridge("grey")
    before = hand.read(9, cyan=40.0, grey=50.0)
    hand.exchange(10, minutes=60, before=before, after="read-1")
    hand.cartridge("cyan", 10.5)
    assert hand.read(12, cyan=97.0, grey=42.0) == "read-1"
    assert _measured(hand) is None


def test_a_black_never_read_counts_from_its_start_and_without_one_not_at_all() -> None:
    for start, found in ((90.0, 5.0), (None, None)):
        hand = Hand("photo_black")
        hand.cartridge("photo_black", start=start)
        before = hand.read(9, cyan=40.0)
        after = hand.read(11, photo_black=85.0)
        hand.exchange(10, before=before, after=after)
        assert _measured(hand) == (None if found is None else pytest.approx(found))


def test_the_readings_named_measure_it_though_others_are_nearer() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    before = hand.read(8, cyan=90.0)
    hand.read(9, cyan=80.0)
    hand.read(11, cyan=70.0)
    after = hand.read(12, cyan=60.0)
    hand.exchange(10, before=before, after=after)
    assert _measured(hand) == pytest.approx(30.0)


def test_of_several_cartridges_the_last_put_in_counts() -> None:
    """The black that comes in with a cartridge of its own: the one taken out before paid nothing."""
    hand = Hand("photo_black")
    hand.cartridge("photo_black", 0, removed=1)
    hand.cartridge("photo_black", 1, start=30.0, removed=8)
    before = hand.read(9, photo_black=5.0)
    hand.exchange(10, before=before, after="read-1")
    hand.cartridge("photo_black", 10.2, start=70.0)
    hand.read(11, photo_black=66.0)
    assert _measured(hand) == pytest.approx(4.0)
