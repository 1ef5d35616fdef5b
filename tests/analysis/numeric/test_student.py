"""Student's t against scipy's."""

from __future__ import annotations

import pytest
from scipy import stats

from logbook.analysis.numeric.student import student_quantile


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 8, 15, 40, 1000])
def test_the_quantile_is_close_to_the_exact_one(freedom: int) -> None:
    assert student_quantile(freedom) == pytest.approx(stats.t.ppf(0.95, freedom), abs=0.002)
