"""What exchanges of the blacks take, on logs whose answer can be worked out by hand."""

from __future__ import annotations

import pytest

from logbook.analysis.ink import fit_inks
from logbook.analysis.ink_account import account, measured_ml
from logbook.analysis.ink_draws import AREA
from tests.analysis.ink_hand import HOUR, Hand, rate

OUT, BACK = ("matte", "photo"), ("photo", "matte")


def test_an_exchange_without_readings_right_around_it_still_counts() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 2.0)
    hand.read(2, cyan=96.0)
    hand.print(3, 1.0)
    hand.exchange(4)
    hand.print(5, 1.0)
    hand.read(6, cyan=85.0)  # 2 m² and an exchange of 7 ml
    assert rate(fit_inks(hand.log()), "cyan", OUT) == pytest.approx(7.0, abs=0.1)


def test_the_incoming_black_pays_and_the_outgoing_one_does_not() -> None:
    hand = Hand("matte_black", "photo_black")
    hand.cartridge("matte_black")
    hand.cartridge("photo_black")
    hand.print(1, 2.0)
    hand.exchange(2)
    hand.read(3, matte_black=96.0, photo_black=91.0)
    hand.print(4, 1.0, "photo")
    hand.read(5, matte_black=96.0, photo_black=88.0)
    hand.exchange(6, to="matte")
    hand.read(7, matte_black=84.0, photo_black=88.0)
    hand.print(8, 2.0)
    hand.read(9, matte_black=80.0)
    use = fit_inks(hand.log())
    assert rate(use, "matte_black", OUT) == 0.0
    assert use.fits["matte_black"].interval(OUT) is None
    assert rate(use, "photo_black", BACK) == 0.0
    assert rate(use, "photo_black", OUT) == pytest.approx(9.0, abs=0.05)
    assert rate(use, "matte_black", BACK) == pytest.approx(12.0, abs=0.05)
    assert rate(use, "photo_black", AREA) == pytest.approx(3.0, abs=0.05)
    assert rate(use, "matte_black", AREA) == pytest.approx(2.0, abs=0.05)


def test_a_black_that_is_put_back_carries_on_without_a_new_cartridge() -> None:
    hand = Hand("matte_black")
    hand.cartridge("matte_black", removed=2)
    hand.print(1, 2.0)
    hand.read(1.5, matte_black=96.0)
    hand.exchange(2)
    hand.exchange(5, to="matte")
    hand.read(6, matte_black=86.0)
    hand.print(7, 1.0)
    hand.read(8, matte_black=84.0)
    use = fit_inks(hand.log())
    assert rate(use, "matte_black", BACK) == pytest.approx(10.0, abs=0.05)
    assert account(use.fits["matte_black"]).used == pytest.approx(16.0)


def test_a_part_used_black_put_in_at_the_exchange_pays_for_it() -> None:
    hand = Hand("photo_black")
    hand.cartridge("photo_black", removed=3)
    hand.exchange(1)
    hand.read(2, photo_black=91.0)
    hand.exchange(3, to="matte")
    hand.cartridge("photo_black", 10.2, start=91.0)  # put back in a little after the time noted for the exchange
    hand.exchange(10)
    hand.read(11, photo_black=82.0)
    use = fit_inks(hand.log())
    assert rate(use, "photo_black", OUT) == pytest.approx(9.0, abs=0.05)
    assert account(use.fits["photo_black"]).used == pytest.approx(18.0)


@pytest.mark.parametrize("share_of_new", [0.0, 0.4, 1.0])
def test_a_cartridge_exchanged_in_the_middle_of_an_exchange_biases_nothing(share_of_new: float) -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 5.0)
    hand.read(2, cyan=90.0)
    hand.exchange(3)
    hand.read(4, cyan=82.0)
    hand.print(5, 2.0)
    before = hand.read(9.9, cyan=78.0)
    hand.exchange(10, to="photo", before=before, after="read-3", minutes=50)
    hand.cartridge("cyan", 10.5)
    hand.read(11, cyan=100.0 - 8 * share_of_new)
    hand.print(12, 5.0)
    hand.read(13, cyan=90.0 - 8 * share_of_new)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", OUT) == pytest.approx(8.0, abs=0.05)
    assert rate(use, "cyan", AREA) == pytest.approx(2.0, abs=0.01)
    found = account(use.fits["cyan"])
    assert found.used == pytest.approx(22.0 + 10.0 + 8 * share_of_new)
    assert found.unexplained == pytest.approx(0.0, abs=0.1)
    assert found.changeovers == pytest.approx(8.0 + 8 * share_of_new, abs=0.1)


def test_cleanings_inside_an_exchange_are_part_of_its_waste() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 2.0)
    before = hand.read(2, cyan=96.0)
    hand.exchange(3, before=before, after="read-1")
    hand.clean(3.5)
    hand.read(4, cyan=87.0)
    for hour in (6, 7, 8):
        hand.clean(hour)
        hand.read(hour + 0.5, cyan=87.0 - 2 * (hour - 5))
    use = fit_inks(hand.log())
    assert rate(use, "cyan", OUT) == pytest.approx(9.0, abs=0.05)
    assert rate(use, "cyan", "unnoted") == pytest.approx(2.0, abs=0.05)
    assert account(use.fits["cyan"]).cleanings == pytest.approx(6.0, abs=0.05)


@pytest.mark.parametrize(("noted", "free"), [(None, 0), (0, 2), (1, 1), (2, 0)])
def test_an_exchange_keeps_as_many_cleanings_as_it_says(noted: int | None, free: int) -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.exchange(3, cleanings=noted)
    hand.clean(3.2)
    hand.clean(3.4)
    hand.read(5, cyan=90.0)
    assert len(fit_inks(hand.log()).line.cleanings) == free


def test_a_cleaning_after_the_next_print_is_not_the_exchanges() -> None:
    hand = Hand("cyan")
    hand.exchange(3)
    hand.print(3.2)
    hand.clean(3.4)
    assert len(fit_inks(hand.log()).line.cleanings) == 1


def test_a_cleaning_after_the_next_print_is_not_the_exchanges_whatever_readings_it_names() -> None:
    hand = Hand("cyan")
    before, after = hand.read(2, cyan=90.0), hand.read(9, cyan=70.0)
    hand.exchange(3, before=before, after=after)
    hand.clean(3.5)
    hand.print(5)
    hand.clean(6)
    assert len(fit_inks(hand.log()).line.cleanings) == 1


def test_an_ink_that_an_exchange_does_not_touch_keeps_an_honest_interval() -> None:
    hand = Hand("cyan", step=1.0)
    hand.cartridge("cyan")
    level = 100.0
    for turn in range(10):
        hand.print(10 * turn, 2.0)
        level -= 4.0
        before = hand.read(10 * turn + 1, cyan=level)
        if turn in (3, 6):
            after = f"read-{len(hand.readings)}"
            hand.exchange(10 * turn + 2, before=before, after=after)
            hand.read(10 * turn + 3, cyan=level)
    found = fit_inks(hand.log()).fits["cyan"].interval(OUT)
    assert found is not None
    assert found.low == 0.0 <= found.value
    assert 0.1 < found.high < 3.0


def test_directions_that_always_come_together_share_and_say_so() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    for turn in range(3):
        hand.exchange(10 * turn + 1)
        hand.exchange(10 * turn + 2, to="matte")
        hand.read(10 * turn + 3, cyan=100.0 - 10 * (turn + 1))
    fit = fit_inks(hand.log()).fits["cyan"]
    for way in (OUT, BACK):
        found = fit.interval(way)
        assert found is not None
        assert found.value == pytest.approx(5.0, abs=0.01)
        assert found.low < 0.1 and found.high > 9.9


class TestMeasured:
    """Before minus after."""

    def test_by_the_readings_named(self) -> None:
        hand = Hand("matte_black", "photo_black", "cyan")
        for ink in hand.inks:
            hand.cartridge(ink, ml=200.0 if ink == "cyan" else 100.0)
        before = hand.read(1, matte_black=50.0, cyan=60.0)
        hand.exchange(2, before=before, after="read-1")
        hand.read(3, photo_black=91.0, cyan=58.0)
        use = fit_inks(hand.log())
        assert measured_ml(use.log, use.fits, 0) == pytest.approx(9.0 + 4.0)

    def test_by_readings_near_in_time(self) -> None:
        hand = Hand("cyan")
        hand.cartridge("cyan")
        hand.read(1, cyan=60.0)
        hand.exchange(2)
        hand.read(3, cyan=55.0)
        use = fit_inks(hand.log())
        assert measured_ml(use.log, use.fits, 0) == pytest.approx(5.0)

    def test_not_where_a_print_lies_between(self) -> None:
        hand = Hand("cyan")
        hand.cartridge("cyan")
        hand.read(1, cyan=60.0)
        hand.exchange(2)
        hand.print(2.5)
        hand.read(3, cyan=55.0)
        use = fit_inks(hand.log())
        assert measured_ml(use.log, use.fits, 0) is None

    def test_a_cartridge_put_in_during_it_counts_from_its_start(self) -> None:
        hand = Hand("cyan", "grey")
        hand.cartridge("cyan")
        hand.cartridge("grey")
        before = hand.read(1, cyan=4.0, grey=50.0)
        hand.exchange(2, before=before, after="read-1")
        hand.cartridge("cyan", 2.5)
        hand.read(3, cyan=97.0, grey=46.0)
        use = fit_inks(hand.log())
        assert measured_ml(use.log, use.fits, 0) == pytest.approx(3.0 + 4.0)


def test_a_reading_at_the_moment_of_the_exchange_is_put_where_the_exchange_says() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    before = hand.read(2, cyan=96.0)
    hand.exchange(2, before=before, after="read-1")
    hand.read(2 + 60 / HOUR, cyan=90.0)
    hand.print(5)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", OUT) == pytest.approx(6.0, abs=0.05)


def test_two_readings_of_one_minute_are_put_on_either_side_of_their_exchange() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 2.0)
    before, after = hand.read(3, cyan=96.0), hand.read(3, cyan=90.0)
    hand.exchange(3, before=before, after=after)
    hand.print(5, 2.0)
    hand.read(6, cyan=86.0)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", OUT) == pytest.approx(6.0, abs=0.05)
    assert measured_ml(use.log, use.fits, 0) == pytest.approx(6.0)


def test_a_reading_noted_for_the_time_at_which_an_exchange_began_was_made_before_it() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1, 2.0)
    hand.read(3, cyan=96.0)
    hand.exchange(3)
    hand.read(4, cyan=90.0)
    use = fit_inks(hand.log())
    assert rate(use, "cyan", OUT) == pytest.approx(6.0, abs=0.05)
    assert measured_ml(use.log, use.fits, 0) == pytest.approx(6.0)
