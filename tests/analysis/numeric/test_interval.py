"""An estimate and its ends."""

from __future__ import annotations

import pytest

from logbook.analysis.numeric.interval import Z75, Interval, from_normal


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


def test_the_central_three_quarters_leave_an_eighth_on_either_side() -> None:
    from statistics import NormalDist

    ends = from_normal(0.0, 1.0, Z75)
    assert [NormalDist().cdf(ends.low), NormalDist().cdf(ends.high)] == pytest.approx([0.125, 0.875])


def test_what_is_possible_may_have_one_end_only() -> None:
    assert Interval(0.5, -0.2, 1.4).clipped(low=0.0) == Interval(0.5, 0.0, 1.4)
    assert Interval(0.5, -0.2, 1.4).clipped(high=1.0) == Interval(0.5, -0.2, 1.0)
