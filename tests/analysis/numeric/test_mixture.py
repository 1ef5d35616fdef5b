"""Mixtures of normal errors against what is known of them."""

from __future__ import annotations

import numpy as np
import pytest
from scipy import stats

from logbook.analysis.numeric.interval import Z90
from logbook.analysis.numeric.mixture import mixture_reach


@pytest.mark.parametrize("freedom", [4, 10, 40])
def test_a_spread_with_the_weights_of_chi_square_gives_student_s_t(freedom: int) -> None:
    """A normal error over an independent root of chi-square / degrees (Student 1908)."""
    shares = (np.arange(4000) + 0.5) / 4000
    sd = np.sqrt(freedom / stats.chi2.ppf(shares, freedom))
    assert mixture_reach(sd, np.full(4000, 1 / 4000)) == pytest.approx(stats.t.ppf(0.95, freedom), rel=1e-3)


def test_one_spread_is_the_normal_one_and_none_reaches_nowhere() -> None:
    assert mixture_reach(np.array([0.3]), np.array([1.0])) == pytest.approx(0.3 * Z90)
    assert mixture_reach(np.array([0.0]), np.array([1.0])) == 0.0


def test_half_of_the_errors_at_nothing_leave_the_others_an_eightieth_percentile() -> None:
    """Half at 0 are inside; of the rest 80 % must be, for 90 % together."""
    assert mixture_reach(np.array([0.0, 2.0]), np.array([0.5, 0.5])) == pytest.approx(2 * stats.norm.ppf(0.9))
