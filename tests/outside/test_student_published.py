"""Student's t against printed tables."""

from __future__ import annotations

import pytest

from logbook.analysis.numeric.student import t_quantile


@pytest.mark.parametrize(
    ("freedom", "printed", "tolerance"),
    [
        (2, 2.920, 0.03),
        (3, 2.353, 0.01),
        (4, 2.132, 0.005),
        (5, 2.015, 0.003),
        (10, 1.812, 0.001),
        (30, 1.697, 0.001),
        (120, 1.658, 0.001),
    ],
)
def test_upper_five_percent_points(freedom: int, printed: float, tolerance: float) -> None:
    """NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2, column 0.95."""
    assert t_quantile(freedom) == pytest.approx(printed, abs=tolerance)
