"""Wilson's interval: its bounds and its behaviour at the edges."""

from __future__ import annotations

import math

import pytest

from logbook.analysis.numeric.proportion import wilson


def test_nothing_of_nothing_says_nothing() -> None:
    share = wilson(0, 0)
    assert math.isnan(share.value)
    assert (share.low, share.high) == (0.0, 1.0)


@pytest.mark.parametrize("successes", [0, 1, 5, 9, 10])
def test_the_interval_holds_the_share_and_stays_possible(successes: int) -> None:
    share = wilson(successes, 10)
    assert 0 <= share.low <= share.value <= share.high <= 1


def test_more_prints_narrow_the_interval() -> None:
    assert wilson(40, 100).width < wilson(4, 10).width


def test_a_higher_level_widens_it() -> None:
    assert wilson(4, 10, level=0.95).width > wilson(4, 10, level=0.75).width


@pytest.mark.parametrize(("successes", "n", "level"), [(-1, 5, 0.9), (6, 5, 0.9), (1, 5, 1.0)])
def test_impossible_counts_are_refused(successes: int, n: int, level: float) -> None:
    with pytest.raises(ValueError):
        wilson(successes, n, level=level)
