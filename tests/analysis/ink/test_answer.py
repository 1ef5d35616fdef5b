"""The mass balance of one ink and of several, on logs whose answer can be worked out by hand."""

from __future__ import annotations

import random
from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.ink.account import account, account_by_month
from logbook.analysis.ink.answer import fit_inks
from tests.analysis.ink.hand import MATTE, Hand, closes, rate

OUT = ("matte", "photo")


def test_area_and_exchange_are_told_apart() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 2.0)
    hand.read(2, cyan=96.0)  # 2 m² took 4 ml
    hand.exchange(3)
    hand.read(4, cyan=89.0)  # the changeover 7 ml
    hand.print(5, 3.0)
    hand.read(6, cyan=83.0)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", MATTE) == pytest.approx(2.0, abs=0.1)  # as many readings as rates: prints may well vary
    assert rate(use, "cyan", OUT) == pytest.approx(7.0, abs=0.1)
    assert closes(use)


def test_a_cartridge_exchanged_between_readings_breaks_nothing() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=100.0)
    hand.print(1, 10.0)
    hand.read(2, cyan=80.0)
    hand.print(3, 15.0)  # what this took of the old one was not read any more
    hand.cartridge("cyan", 4, ml=200.0)
    hand.print(5, 10.0)
    hand.read(6, cyan=90.0)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", MATTE) == pytest.approx(2.0, abs=0.1)
    found = account(use.fits["cyan"])
    assert found.used == pytest.approx(40.0)
    assert found.prints == pytest.approx(40.0, abs=2.0)


def test_each_strength_has_its_own_rate_and_rare_ones_share() -> None:
    hand = Hand("cyan", step=0.01)
    hand.cartridge("cyan", ml=1_000.0)
    level = 100.0
    for hour, (strength, ml) in enumerate([("light", 1.0), ("normal", 2.0)] * 3 + [("deep", 5.0)] * 2):
        hand.clean(10 * hour, strength)
        level -= ml / 10
        hand.read(10 * hour + 1, cyan=round(level, 4))
    use = fit_inks(hand.log())
    assert use.line.cleaning_rate == {"light": "light and deep", "normal": "normal", "deep": "light and deep"}
    assert rate(use, "cyan", "normal") == pytest.approx(2.0, abs=0.1)
    assert 1.0 < rate(use, "cyan", "light and deep") < 5.0


def test_a_cleaning_draws_on_the_black_that_is_loaded() -> None:
    hand = Hand("matte_black", "photo_black")
    for ink in hand.inks:
        hand.cartridge(ink)
    hand.exchange(1)
    hand.read(2, matte_black=100.0, photo_black=91.0)
    for hour in (5, 6, 7):
        hand.clean(hour)
    hand.read(8, matte_black=100.0, photo_black=85.0)
    use = fit_inks(hand.log())
    assert rate(use, "photo_black", "unnoted") == pytest.approx(2.0, abs=0.05)
    assert use.fits["matte_black"].draws.columns == ()


def test_readings_between_which_nothing_was_drawn_are_one() -> None:
    hand = Hand("cyan", step=1.0)
    hand.cartridge("cyan")
    for turn in range(6):
        hand.print(10 * turn, 5.0)
        for again in range(1 + 8 * (turn % 2)):
            hand.read(10 * turn + 1 + again / 10, cyan=100.0 - 10 * (turn + 1))
    once = hand.log()
    kept = tuple(reading for n, reading in enumerate(once.readings) if once.readings[n - 1].levels != reading.levels)
    many, few = fit_inks(once), fit_inks(replace(once, readings=kept))
    assert many.fits["cyan"].intervals == few.fits["cyan"].intervals


def test_the_order_of_the_file_does_not_matter() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    for turn in range(8):
        hand.print(10 * turn, 1.0 + turn % 3)
        hand.read(10 * turn + 1, cyan=100.0 - 2.5 * (turn + 1))
    hand.exchange(45)
    log = hand.log()
    shuffled = list(log.readings)
    random.Random(4).shuffle(shuffled)
    mixed = np.random.default_rng(4).permutation(len(log.print_at))
    again = replace(
        log,
        readings=tuple(shuffled),
        print_at=log.print_at[mixed],
        print_m2=log.print_m2[mixed],
        print_black=log.print_black[mixed],
    )
    first, second = fit_inks(log), fit_inks(again)
    assert first.fits["cyan"].rates == pytest.approx(second.fits["cyan"].rates)


def test_what_cannot_be_explained_is_shown_and_moves_no_rate() -> None:
    hand = Hand("cyan", step=0.1)
    hand.cartridge("cyan", ml=200.0)
    level = 100.0
    for turn in range(20):
        hand.print(10 * turn, 1.0)
        level -= 1.0 + 0.1 * (turn % 2) + (12.0 if turn == 11 else 0.0)
        hand.read(10 * turn + 1, cyan=round(level, 3))
    use = fit_inks(hand.log())
    assert rate(use, "cyan", MATTE) == pytest.approx(2.1, abs=0.05)
    assert account(use.fits["cyan"]).unexplained == pytest.approx(24.0, abs=1.0)
    assert closes(use)


def test_ink_that_vanishes_while_nothing_was_drawn_is_unexplained() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 2.0)
    hand.read(2, cyan=96.0)
    hand.read(3, cyan=90.0)
    hand.print(4, 2.0)
    hand.read(5, cyan=86.0)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", MATTE) == pytest.approx(2.0, abs=0.01)
    assert account(use.fits["cyan"]).unexplained == pytest.approx(6.0, abs=0.05)


def test_a_level_that_rises_all_the_same_starts_anew() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 2.0)
    hand.read(2, cyan=96.0)
    hand.print(3, 2.0)
    hand.read(4, cyan=99.0)  # a cartridge that nobody noted
    hand.print(5, 2.0)
    hand.read(6, cyan=95.0)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", MATTE) == pytest.approx(2.0, abs=0.1)  # of three readings
    assert account(use.fits["cyan"]).used == pytest.approx(8.0)


def test_without_readings_nothing_is_claimed() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1)
    hand.exchange(2)
    use = fit_inks(hand.log())
    assert use.fits["cyan"].interval(MATTE) is None
    assert use.total(OUT) is None
    assert account(use.fits["cyan"]).used == 0.0


def test_an_empty_log_has_an_empty_answer() -> None:
    use = fit_inks(Hand("cyan").log())
    assert use.total(OUT) is None
    assert account_by_month(use.fits) == {}


def test_a_total_in_money_leaves_out_what_has_no_price() -> None:
    hand = Hand("cyan", "grey")
    for ink in hand.inks:
        hand.cartridge(ink)
    hand.exchange(1)
    hand.read(2, cyan=96.0, grey=90.0)
    hand.print(3)
    use = fit_inks(hand.log())
    money = use.total(OUT, {"cyan": 0.5})
    together = use.total(OUT)
    assert money is not None and together is not None
    # What a changeover takes differs by some hundredths from one to the next.
    assert money.value == pytest.approx(2.0, abs=0.05)
    assert together.value == pytest.approx(14.0, abs=0.2)


def test_the_months_add_up_to_the_account() -> None:
    hand = Hand("cyan", step=0.1)
    hand.cartridge("cyan", ml=300.0)
    level = 100.0
    for day in range(120):
        hand.print(24 * day, 0.5)
        level -= 0.3 + 0.1 * (day % 3)
        hand.read(24 * day + 1, cyan=round(level, 1))
    hand.exchange(24 * 50 + 2)
    use = fit_inks(hand.log())
    months, whole = account_by_month(use.fits), account(use.fits["cyan"])
    assert list(months) == ["1970-01", "1970-02", "1970-03", "1970-04"]
    for part in ("used", "prints", "changeovers", "cleanings", "unexplained"):
        assert sum(getattr(month, part) for month in months.values()) == pytest.approx(getattr(whole, part))


def test_a_last_reading_in_the_minute_of_the_new_cartridge_is_the_old_ones() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 20.0)
    hand.read(2, cyan=60.0)
    hand.print(3, 20.0)
    hand.read(4, cyan=20.0)
    hand.cartridge("cyan", 4)
    hand.print(5, 10.0)
    hand.read(6, cyan=80.0)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", MATTE) == pytest.approx(2.0, abs=0.01)
    assert account(use.fits["cyan"]).used == pytest.approx(100.0)
