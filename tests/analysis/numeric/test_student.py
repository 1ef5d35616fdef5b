"""Student's t against scipy's."""

from __future__ import annotations

import pytest
from scipy import stats

from logbook.analysis.numeric.student import student_quantile, t_quantile


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8, 15, 40, 1000])
def test_the_quantile_is_close_to_the_exact_one(freedom: int) -> None:
    assert student_quantile(freedom) == pytest.approx(stats.t.ppf(0.95, freedom), abs=0.002)


@pytest.mark.parametrize(("freedom", "tolerance"), [(10, 3e-6), (20, 1e-7), (40, 3e-9)])
def test_the_error_of_the_expansion_falls_with_the_fifth_power_of_the_degrees(freedom: int, tolerance: float) -> None:
    """A wrong figure in one of its four terms would miss these tolerances."""
    assert t_quantile(freedom) == pytest.approx(stats.t.ppf(0.95, freedom), abs=tolerance)
