"""Poisson numbers: chances against scipy, limits against the exact ones."""

import numpy as np
import pytest
from scipy import stats

from logbook.analysis.numeric.poisson import chances, rate


@pytest.mark.parametrize("mean", [0.02, 1.0, 7.3, 60.0])
def test_the_chances_are_scipys(mean: float) -> None:
    chance = chances(mean)
    assert chance == pytest.approx(stats.poisson.pmf(np.arange(len(chance)), mean), abs=1e-12)
    assert chance.sum() == pytest.approx(1.0)


def test_nothing_ever_arrives_at_rate_zero() -> None:
    assert chances(0.0).tolist() == [1.0]


@pytest.mark.parametrize("count", [5, 40, 500])
def test_the_limits_of_a_rate_are_close_to_the_exact_ones(count: int) -> None:
    found = rate(count, 1.0)
    assert found.low == pytest.approx(stats.chi2.ppf(0.05, 2 * count) / 2, rel=0.03)
    assert found.high == pytest.approx(stats.chi2.ppf(0.95, 2 * count + 2) / 2, rel=0.03)


def test_after_no_event_the_rate_may_still_be_above_zero() -> None:
    found = rate(0, 10.0)
    assert (found.value, found.low) == (0.0, 0.0)
    assert 0.2 < found.high < 0.4


@pytest.mark.parametrize("mean", [0.02, 1.0, 7.3, 60.0])
def test_only_chances_too_rare_to_matter_are_left_out(mean: float) -> None:
    chance = chances(mean)
    assert chance[-1] > 1e-15
    assert stats.poisson.pmf(len(chance), mean) < 1e-15
