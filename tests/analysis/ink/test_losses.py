"""Ink that went without anything to account for it: what counts as a loss."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.losses import _studentised
from tests.analysis.ink.hand import Hand


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


def test_a_residual_is_judged_by_a_fit_without_it() -> None:
    """Leave each out, fit the others, and see how far it lies, its own error and the slope's together."""
    rng = np.random.default_rng(2)
    x = rng.uniform(1, 4, 12)
    y = 2 * x + rng.normal(0, 3, 12)
    found = _studentised(x, y)
    for n in range(12):
        others, kept = np.delete(x, n), np.delete(y, n)
        slope = float(others @ kept / (others @ others))
        variance = max(float(np.sum((kept - slope * others) ** 2)) / 10, 1.0)
        expected = (y[n] - slope * x[n]) / np.sqrt(variance * (1 + x[n] ** 2 / (others @ others)))
        assert found[n] == pytest.approx(expected)


def test_the_error_known_beforehand_is_the_least() -> None:
    x = np.ones(10)
    y = np.array([0.0] * 9 + [5.0])
    assert _studentised(x, y)[-1] == pytest.approx(5 / (1 + 1 / 9) ** 0.5)
