"""Everything that drew on one ink, in time order."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.ink.draws import IDLE, SPELL, Kind, draws_on, timeline
from logbook.analysis.ink.readings import stretches
from logbook.analysis.ink.unlogged import Batch, share_unlogged
from tests.analysis.ink.hand import HOUR, MATTE, PHOTO, Hand

OUT, BACK = ("matte", "photo"), ("photo", "matte")


def _week() -> Hand:
    """Matte, a cleaning, out, photo, a cleaning, back, matte, a cleaning; the prints are not noted in their order."""
    hand = Hand("cyan", "matte_black", "photo_black")
    for ink in hand.inks:
        hand.cartridge(ink)
    hand.print(40, 4.0)
    hand.print(2, 2.0)
    hand.print(20, 3.0, "photo")
    for hour in (5, 25, 45):
        hand.clean(hour, "light")
    hand.exchange(10)
    hand.exchange(30, to="matte")
    return hand


def test_a_colour_pays_for_everything_in_time_order() -> None:
    log = _week().log()
    draws = draws_on(log, timeline(log), "cyan")
    assert draws.columns == (MATTE, PHOTO, "light", OUT, BACK)
    named = [draws.columns[n] for n in draws.column]
    assert named == [MATTE, "light", OUT, PHOTO, "light", BACK, MATTE, "light"]
    assert (draws.at / HOUR).round(3).tolist() == [2.0, 5.0, 10.0, 20.0, 25.0, 30.0, 40.0, 45.0]
    assert draws.amount.tolist() == [2.0, 1.0, 1.0, 3.0, 1.0, 1.0, 4.0, 1.0]
    # Prints by their place in the log, then the two changeovers, then the cleanings.
    assert draws.event.tolist() == [1, 5, 3, 2, 6, 4, 0, 7]


def test_a_black_pays_while_it_is_loaded_and_for_being_brought_in() -> None:
    log = _week().log()
    for ink, expected in (
        ("matte_black", [MATTE, "light", BACK, MATTE, "light"]),
        ("photo_black", [OUT, PHOTO, "light"]),
    ):
        draws = draws_on(log, timeline(log), ink)
        assert [draws.columns[n] for n in draws.column] == expected


def test_blacks_with_a_slot_of_their_own_pay_for_every_cleaning() -> None:
    log = replace(_week().log(), shared_black_slot=False)
    draws = draws_on(log, timeline(log), "photo_black")
    assert [draws.columns[n] for n in draws.column] == ["light", OUT, PHOTO, "light", "light"]


def test_where_nothing_tells_the_loaded_black_both_pay_for_a_cleaning() -> None:
    hand = Hand("matte_black", "photo_black")
    hand.clean(1)
    log = hand.log()
    assert [draws_on(log, timeline(log), ink).columns for ink in hand.inks] == [("unnoted",), ("unnoted",)]


def test_an_ink_that_nothing_drew_on_has_no_draws() -> None:
    log = Hand("cyan").log()
    draws = draws_on(log, timeline(log), "cyan")
    assert (draws.columns, len(draws.at), draws.splits) == ((), 0, ())


def test_an_exchange_in_which_a_full_cartridge_came_after_another_is_shared_by_both() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.exchange(10, minutes=60)
    hand.cartridge("cyan", 10.5)
    log = hand.log()
    draws = draws_on(log, timeline(log), "cyan")
    assert draws.columns == ()
    assert [(split.cartridge, round(split.span.at / HOUR, 3)) for split in draws.splits] == [("cyan-1", 10.0)]


def test_a_first_cartridge_put_in_during_the_exchange_pays_from_then_on() -> None:
    hand = Hand("cyan")
    hand.exchange(10, minutes=60)
    hand.cartridge("cyan", 10.5)
    log = hand.log()
    draws = draws_on(log, timeline(log), "cyan")
    assert ((draws.at / HOUR).tolist(), draws.splits) == ([10.5], ())


def _put_back(*hours: float, removed: float) -> tuple[list[float], list[str]]:
    """When a photo black pays that was taken out before and put back at these hours, around a changeover at 10."""
    hand = Hand("photo_black")
    hand.cartridge("photo_black", removed=removed)
    for hour in hours:
        hand.cartridge("photo_black", hour, start=91.0)
    hand.exchange(10, minutes=60)
    log = hand.log()
    draws = draws_on(log, timeline(log), "photo_black")
    return (draws.at / HOUR).round(3).tolist(), [split.cartridge for split in draws.splits]


def test_a_black_put_back_during_the_exchange_that_brings_it_in_pays_for_all_of_it() -> None:
    assert _put_back(10.2, removed=3) == ([10.2], [])
    assert _put_back(9.5, removed=3) == ([10.0], [])  # put in a little before the minute noted


def test_one_exchanged_for_another_during_it_shares_it() -> None:
    assert _put_back(10.2, removed=9.5) == ([], ["photo_black-1"])
    assert _put_back(10.2, 10.4, removed=3) == ([], ["photo_black-2"])


def test_one_put_in_when_it_began_or_after_it_ended_does_not() -> None:
    assert _put_back(9.0, removed=3) == ([10.0], [])
    assert _put_back(11.1, removed=3) == ([10.0], [])


def _month() -> Hand:
    """Six days of prints a week apart, the gauge read at the end; photo black is brought in on the 15th day."""
    hand = Hand("cyan", "matte_black")
    for ink in hand.inks:
        hand.cartridge(ink)
    for day in range(0, 42, 7):
        hand.print(24 * day + 9, 1.0, "matte" if day < 15 else "photo")
    hand.exchange(24 * 15 + 9)
    hand.read(24 * 40 + 12, cyan=50.0, matte_black=80.0)
    return hand


def test_every_day_in_the_lines_is_drawn_from_and_so_is_each_idle_spell() -> None:
    """Days are counted up to the last reading, at noon of the 41st; a spell is over with the print or the changeover after it."""
    log = _month().log()
    line = timeline(log)
    drawn = {}
    for ink in ("cyan", "matte_black"):
        draws = draws_on(log, line, ink)
        drawn[ink] = [float(np.sum(draws.amount[draws.column == draws.columns.index(one)])) for one in (IDLE, SPELL)]
    assert drawn["cyan"] == pytest.approx([40.5, 5])
    assert drawn["matte_black"] == pytest.approx([15.25, 2])  # out of the lines at nine


def test_a_reading_sees_as_much_of_its_day_as_was_over() -> None:
    """Counted whole at midnight, a day would be missing in what the afternoon's reading saw go."""
    hand = Hand("cyan")
    hand.cartridge("cyan")
    for hour in (7, 14, 24 + 7):
        hand.print(hour)
        hand.read(hour, cyan=90.0 - hour)
    log = hand.log()
    draws = draws_on(log, timeline(log), "cyan")
    runs, _ = stretches(log, timeline(log), draws)
    days = runs[0].totals(draws)[:, draws.columns.index(IDLE)]
    assert days == pytest.approx([7 / 24, 14 / 24, 31 / 24], abs=1 / 4)


def test_noted_ink_is_as_much_area_as_it_is_ink_and_what_was_not_logged_lies_around_what_was() -> None:
    """Prints of 1 m² with 2, 4 and no ml noted: 3 ml a m². A fifth was never logged: a quarter of what was."""
    hand = Hand("cyan")
    hand.cartridge("cyan")
    for hour in (1, 2, 3):
        hand.print(hour)
    share = share_unlogged([Batch(50.0, 40.0)], "paper")
    log = replace(hand.log(), print_ml=np.array([2.0, 4.0, np.nan]), unlogged=share)
    draws = draws_on(log, timeline(log), "cyan")
    assert draws.noted is not None
    assert draws.noted.tolist() == [True, True, False, False]
    assert draws.amount == pytest.approx([2 / 3, 4 / 3, 1.0, 0.75])
    assert draws.kind.tolist() == [Kind.PRINTS] * 3 + [Kind.UNLOGGED]
