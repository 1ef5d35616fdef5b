"""Levels as runs of totals with their error covariances, and what is lost kept apart, on figures that are given."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink import fit_inks
from logbook.analysis.ink_draws import AREA, Draws
from logbook.analysis.ink_fit import InkFit, Variation, as_run
from logbook.analysis.ink_readings import Stretch
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.random_walk import rounding_covariance
from tests.analysis.ink_hand import Hand

OUT = ("matte", "photo")
COVARIANCE = np.array([[0.04, 0.01], [0.01, 0.5]])


def _series(*, exact: bool) -> tuple[Stretch, InkFit]:
    """2 m², an exchange and 3 m² on a cartridge of 200 ml, read after each."""
    draws = Draws("cyan", (AREA, OUT), np.arange(3.0), np.array([0, 1, 0]), np.array([2.0, 1.0, 3.0]), np.arange(3), ())
    run = Stretch("c", 2.0, exact, np.arange(4.0), np.array([100.0, 96.0, 89.0, 83.0]), np.arange(4))
    unknown = Interval(0.0, 0.0, float("inf"))
    return run, InkFit(draws, (run,), (), np.array([2.0, 7.0]), (unknown, unknown), COVARIANCE, 0.5)


VARY = Variation(0.1, 0.3, 0.4, 5)
# Exchanges vary by 0.5 * 7 ml, from the second reading on.
SWINGS = np.array([[0.0, 0.0, 0.0], [0.0, 12.25, 12.25], [0.0, 12.25, 12.25]])


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
    wandered = [0.0, 0.25 * 4, 0.25 * 4 + 12.25, 0.25 * 13 + 12.25]
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


def test_a_fit_tells_its_rates_by_name() -> None:
    _, fit = _series(exact=True)
    assert (fit.rate(AREA), fit.area_rate, fit.rate(OUT), fit.rate("light")) == (2.0, 2.0, 7.0, 0.0)
    assert fit.interval(AREA) is None
    assert fit.interval("light") is None
    assert [len(run.percent) for run in fit.telling] == [4]


def _falls(turns: int, lost: float) -> int:
    """Series into which a log falls whose prints take 1 % each, with so much more once."""
    hand = Hand("cyan", step=1.0)
    hand.cartridge("cyan")
    level = 100.0
    for turn in range(turns):
        hand.print(10 * turn + 1, 0.5)
        level -= 1.0 + (lost if turn == turns // 2 else 0.0)
        hand.read(10 * turn + 2, cyan=level)
    return len(fit_inks(hand.log()).fits["cyan"].stretches)


@pytest.mark.parametrize(("lost", "series"), [(2.4, 1), (3.8, 2)])
def test_a_fall_six_deviations_beyond_what_was_drawn_is_a_loss(lost: float, series: int) -> None:
    """The difference of two readings is known to sqrt(1 / 6) of a step, a print to a quarter of the ml it takes: half
    a ml together, six times which lies about 3 beyond the 1 that is drawn."""
    assert _falls(20, lost) == series


def test_six_falls_tell_what_is_usual_and_five_do_not() -> None:
    assert (_falls(6, 10.0), _falls(5, 10.0)) == (2, 1)
