"""Levels as running totals, reading by reading."""

from __future__ import annotations

import numpy as np

from logbook.analysis.ink.draws import Draws, draws_on, timeline
from logbook.analysis.ink.readings import Stretch, Use, stretches
from tests.analysis.ink.hand import HOUR, Hand


def _read(hand: Hand, ink: str = "cyan") -> tuple[Draws, list[Stretch], list[Use]]:
    log = hand.log()
    line = timeline(log)
    draws = draws_on(log, line, ink)
    return draws, *stretches(log, line, draws)


def test_a_series_begins_with_the_full_cartridge() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=200.0)
    hand.print(1, 2.0)
    hand.read(2, cyan=96.0)
    hand.print(3, 1.0)
    hand.print(4, 3.0)
    hand.read(5, cyan=88.0)
    draws, [run], [use] = _read(hand)
    assert (run.percent.tolist(), run.upto.tolist(), run.exact) == ([100.0, 96.0, 88.0], [0, 1, 3], True)
    assert (run.at / HOUR).tolist() == [0.0, 2.0, 5.0]
    assert run.drawn_ml().tolist() == [8.0, 24.0]
    assert run.totals(draws).tolist() == [[2.0], [6.0]]
    assert run.squares(draws).tolist() == [[4.0], [14.0]]
    assert (use.fell_ml.tolist(), use.used_ml) == ([8.0, 16.0], 24.0)


def test_a_part_used_start_is_read_and_a_start_that_does_not_count_is_none() -> None:
    for start, first in ((99.0, [99.0, 60.0, 50.0]), (None, [60.0, 50.0])):
        hand = Hand("cyan")
        hand.cartridge("cyan", start=start)
        hand.print(1)
        hand.read(2, cyan=60.0)
        hand.print(3)
        hand.read(4, cyan=50.0)
        _, [run], [use] = _read(hand)
        assert (run.percent.tolist(), run.exact) == (first, False)
        assert use.percent.tolist() == first


def test_levels_with_nothing_drawn_between_are_their_mean_unless_the_first_is_known() -> None:
    hand = Hand("cyan", step=1.0)
    hand.cartridge("cyan")
    hand.read(0.5, cyan=99.0)
    hand.print(1)
    hand.read(2, cyan=90.0)
    hand.read(3, cyan=89.0)
    _, [run], _ = _read(hand)
    assert run.percent.tolist() == [100.0, 89.5]
    assert (run.at / HOUR).tolist() == [0.0, 2.0]


def test_more_than_a_step_gone_with_nothing_drawn_begins_a_new_series() -> None:
    for level, parts in ((89.0, [[100.0, 89.5]]), (88.0, [[100.0, 90.0], [88.0]])):
        hand = Hand("cyan", step=1.0)
        hand.cartridge("cyan")
        hand.print(1)
        hand.read(2, cyan=90.0)
        hand.read(3, cyan=level)
        _, runs, _ = _read(hand)
        assert [run.percent.tolist() for run in runs] == parts


def test_a_rise_of_more_than_a_step_begins_a_new_series_and_gives_nothing_back() -> None:
    for level, parts, fell in ((91.0, [[100.0, 90.0, 91.0]], -1.0), (92.0, [[100.0, 90.0], [92.0]], 0.0)):
        hand = Hand("cyan", step=1.0)
        hand.cartridge("cyan")
        hand.print(1)
        hand.read(2, cyan=90.0)
        hand.print(3)
        hand.read(4, cyan=level)
        _, runs, [use] = _read(hand)
        assert [run.percent.tolist() for run in runs] == parts
        assert [run.exact for run in runs] == [True, False][: len(runs)]
        assert use.fell_ml.tolist() == [10.0, fell]


def test_an_empty_gauge_says_nothing_but_counts_as_used() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=50.0)
    hand.print(1)
    hand.read(2, cyan=40.0)
    hand.print(3)
    hand.read(4, cyan=0.0)
    _, [run], [use] = _read(hand)
    assert run.percent.tolist() == [100.0, 40.0]
    assert use.used_ml == 50.0


def test_readings_of_another_ink_are_passed_over() -> None:
    hand = Hand("cyan", "grey")
    hand.cartridge("cyan")
    hand.print(1)
    hand.read(2, grey=40.0)
    hand.read(3, cyan=90.0)
    _, [run], _ = _read(hand)
    assert (run.at / HOUR).tolist() == [0.0, 3.0]


def test_a_long_series_is_cut_with_one_reading_in_both_pieces() -> None:
    hand = Hand("cyan", step=0.01)
    hand.cartridge("cyan", ml=1000.0)
    for turn in range(450):
        hand.print(2 * turn + 1)
        hand.read(2 * turn + 2, cyan=100.0 - 0.1 * (turn + 1))
    draws, runs, _ = _read(hand)
    assert [len(run.percent) for run in runs] == [128, 128, 128, 70]
    assert runs[1].totals(draws)[:, 0].tolist() == [float(n) for n in range(1, 128)]
    assert [run.exact for run in runs] == [True, False, False, False]
    assert runs[0].percent[-1] == runs[1].percent[0]
    assert runs[1].upto[-1] == runs[2].upto[0]


def test_what_is_read_in_the_middle_of_a_measured_exchange_is_left_out() -> None:
    hand = Hand("cyan")
    hand.cartridge("cyan")
    hand.print(1)
    before = hand.read(2, cyan=90.0)
    hand.read(3, cyan=88.0)
    after = hand.read(4, cyan=80.0)
    hand.exchange(2.5, before=before, after=after)
    draws, [run], _ = _read(hand)
    assert run.percent.tolist() == [100.0, 90.0, 80.0]
    assert run.totals(draws).tolist() == [[1.0, 0.0], [1.0, 1.0]]


def test_a_cut_series_is_exact_in_its_first_part_only() -> None:
    at = np.arange(5.0)
    run = Stretch("c", 2.0, True, at, 100 - at, np.arange(5))
    first, second, third = run.cut([2, 3])
    assert [part.percent.tolist() for part in (first, second, third)] == [[100.0, 99.0], [98.0], [97.0, 96.0]]
    assert [part.exact for part in (first, second, third)] == [True, False, False]
    assert (third.upto.tolist(), third.at.tolist(), third.ml_per_percent) == ([3, 4], [3.0, 4.0], 2.0)
