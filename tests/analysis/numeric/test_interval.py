"""An estimate and its ends."""

from __future__ import annotations

import pytest

from logbook.analysis.numeric.interval import Interval, from_draws, from_normal


def test_a_normal_estimate_leaves_five_percent_on_either_side() -> None:
    from statistics import NormalDist

    ends = from_normal(2.0, 3.0)
    belief = NormalDist(2.0, 3.0)
    assert belief.cdf(ends.low) == pytest.approx(0.05)
    assert belief.cdf(ends.high) == pytest.approx(0.95)


def test_scaling_by_a_negative_factor_keeps_the_ends_in_order() -> None:
    flipped = Interval(1.0, 0.5, 3.0).scaled(-2)
    assert flipped == Interval(-2.0, -6.0, -1.0)


def test_an_end_that_touches_zero_does_not_exclude_it() -> None:
    assert not Interval(1.0, 0.0, 2.0).excludes(0)
    assert Interval(1.0, 0.1, 2.0).excludes(0)


def test_draws_give_the_same_ends_in_any_order() -> None:
    assert from_draws(0, [3, 1, 2, 5, 4]) == from_draws(0, [1, 2, 3, 4, 5])


def test_one_draw_is_both_ends() -> None:
    assert from_draws(4, [4]) == Interval(4.0, 4.0, 4.0)
