"""Darkness over time."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from logbook.analysis.trend import trend


def _days(first: str, count: int, step: int) -> NDArray[np.datetime64]:
    return np.datetime64(first) + np.arange(0, count * step, step).astype("timedelta64[D]")


def test_a_short_log_is_averaged_by_week_beginning_on_monday() -> None:
    days = np.array(["2026-01-04", "2026-01-05", "2026-01-11", "2026-01-12"], dtype="datetime64[D]")
    assert [point.prints for point in trend(days, np.zeros(4))] == [1, 2, 1]


def test_a_long_log_is_averaged_by_month() -> None:
    points = trend(_days("2025-01-01", 100, 5), np.zeros(100))
    assert 16 <= len(points) <= 18
    assert sum(point.prints for point in points) == 100


def test_more_prints_narrow_a_point() -> None:
    rng = np.random.default_rng(1)
    few = trend(_days("2026-01-05", 3, 1), rng.normal(0, 0.3, 3))
    many = trend(np.repeat(_days("2026-01-05", 3, 1), 20), rng.normal(0, 0.3, 60))
    assert many[0].darkness.width < few[0].darkness.width


def test_no_prints_make_no_points() -> None:
    assert trend(np.array([], dtype="datetime64[D]"), np.array([])) == []
