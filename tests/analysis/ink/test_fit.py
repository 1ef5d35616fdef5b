"""Levels as runs of totals with their error covariances, and what is lost kept apart, on figures that are given."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.draws import Draws
from logbook.analysis.ink.fit import InkFit, Variation, as_run, fit_again, fit_steady, steady
from logbook.analysis.ink.readings import Stretch
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.random_walk import rounding_covariance
from tests.analysis.ink.hand import MATTE, Hand

OUT = ("matte", "photo")
COVARIANCE = np.array([[0.004, 0.001], [0.001, 0.05]])


def _series(*, exact: bool) -> tuple[Stretch, InkFit]:
    """2 m², a changeover and 3 m² on a cartridge of 200 ml, read after each."""
    draws = Draws("cyan", (MATTE, OUT), np.arange(3.0), np.array([0, 1, 0]), np.array([2.0, 1.0, 3.0]), np.arange(3), ())
    run = Stretch("c", 2.0, exact, np.arange(4.0), np.array([100.0, 96.0, 89.0, 83.0]), np.arange(4))
    unknown = Interval(0.0, 0.0, float("inf"))
    return run, InkFit(draws, (run,), (), np.array([2.0, 7.0]), (unknown, unknown), COVARIANCE, 0.1)


VARY = Variation(0.1, 0.03, 0.04)
# Changeovers vary by 0.05 * 7 ml, from the second reading on; by 0.04 * 7 ml of it in each ink for itself.
SWUNG = 0.35**2
LATER = np.array([[0.0, 0.0, 0.0], [0.0, 1.0, 1.0], [0.0, 1.0, 1.0]])
SWINGS = 0.28**2 * LATER


@pytest.mark.parametrize(("exact", "shared"), [(True, 0.0), (False, 1.0)])
def test_a_first_run_has_independent_rounding_which_a_read_start_shares_with_all(exact: bool, shared: float) -> None:
    """A step of 0.5 % is 1 ml."""
    run, fit = _series(exact=exact)
    found = as_run(run, fit, 0.5, VARY, again=False)
    assert found.design.tolist() == [[2.0, 0.0], [2.0, 1.0], [5.0, 1.0]]
    assert found.observed.tolist() == [8.0, 22.0, 34.0]
    assert found.walk.tolist() == [[4.0, 4.0, 4.0], [4.0, 4.0, 4.0], [4.0, 4.0, 13.0]]
    assert found.known == pytest.approx((np.eye(3) + shared) / 12 + SWINGS)


@pytest.mark.parametrize("exact", [True, False])
def test_a_second_run_shares_rounding_as_far_as_what_was_drawn_between_is_known(exact: bool) -> None:
    run, fit = _series(exact=exact)
    found = as_run(run, fit, 0.5, VARY, again=True)
    rows = np.array([[0.0, 0.0], [2.0, 0.0], [2.0, 1.0], [5.0, 1.0]])
    wandered = [0.0, 0.01 * 4, 0.01 * 4 + SWUNG, 0.01 * 13 + SWUNG]
    unsure = np.array(
        [[abs(a - b) + (x - y) @ COVARIANCE @ (x - y) for b, y in zip(wandered, rows, strict=True)]
         for a, x in zip(wandered, rows, strict=True)]
    )  # fmt: skip
    rounding = rounding_covariance(np.array([0.0, 4.0, 11.0, 17.0]), unsure, 1.0)
    expected = np.empty((3, 3))
    for i in range(3):
        for j in range(3):
            start = 0.0 if exact else rounding[0, 0] - rounding[i + 1, 0] - rounding[0, j + 1]
            expected[i, j] = rounding[i + 1, j + 1] + start
    assert found.known == pytest.approx(expected + SWINGS)


def test_exchanges_differ_in_common_only_once_the_series_is_fitted() -> None:
    """The common 0.03 * 7 ml come on top of what the steady series holds."""
    _, fit = _series(exact=True)
    still = steady({"cyan": fit}, 0.5, VARY)
    fitted = fit_steady(still, VARY)
    more = fitted["cyan"].series[0].known - still["cyan"].series[0].known
    assert more == pytest.approx(0.21**2 * LATER)
    again = fit_again({"cyan": fit}, 0.5, VARY)
    assert again["cyan"].rates == pytest.approx(fitted["cyan"].rates)


def test_where_only_a_sum_is_known_each_may_have_taken_any_part_of_it() -> None:
    """One print before each changeover, and one reading after both: 20 ml for all four."""
    hand = Hand("cyan")
    hand.cartridge("cyan")
    for turn in range(2):
        hand.print(10 * turn + 1)
        hand.exchange(10 * turn + 2, to="photo" if turn == 0 else "matte")
    hand.read(20, cyan=80.0)
    fit = fit_inks(hand.log()).fits["cyan"]
    assert fit.drawn_ml.sum() == pytest.approx(20.0, abs=1.5)  # these few may have drawn somewhat less than such things do
    for column in (MATTE, OUT):
        found = fit.interval(column)
        assert found is not None
        assert found.low < 2.0 and found.high > 7.0
    hand.print(21)
    hand.read(22, cyan=78.0)
    assert fit_inks(hand.log()).fits["cyan"].rate(MATTE) == pytest.approx(2.0, abs=0.1)


def test_a_fit_tells_its_rates_by_name() -> None:
    _, fit = _series(exact=True)
    assert (fit.rate(MATTE), fit.area_rate, fit.rate(OUT), fit.rate("light")) == (2.0, 2.0, 7.0, 0.0)
    assert fit.interval(MATTE) is None
    assert fit.interval("light") is None
    assert [len(run.percent) for run in fit.telling] == [4]
    alone = replace(fit, stretches=(*fit.stretches, *fit.stretches[0].cut([3])))
    assert [len(run.percent) for run in alone.telling] == [4, 3]  # one level by itself tells nothing


def test_exchanges_have_nothing_of_their_own_unless_told() -> None:
    assert Variation(0.1, 0.3).whole([OUT]).tolist() == [0.3]
