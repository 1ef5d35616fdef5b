"""Darkness over time."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from logbook.analysis.darkness.trend import trend


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


def test_a_point_is_the_mean_of_its_week_with_students_interval() -> None:
    """Monday to Wednesday, at -1, 0 and 1 stops: sd 1, standard error 1 / sqrt(3), 2.92 for two degrees of freedom."""
    [point] = trend(_days("2026-01-05", 3, 1), np.array([-1.0, 0.0, 1.0]))
    assert (point.prints, point.darkness.value) == (3, 0.0)
    assert point.day == float(np.datetime64("2026-01-06").astype(np.int64))
    assert point.darkness.high == pytest.approx(2.919986 / 3**0.5)


def test_each_week_has_its_own_prints() -> None:
    points = trend(_days("2026-01-05", 4, 7), np.array([0.1, 0.2, 0.3, 0.4]))
    assert [round(point.darkness.value, 9) for point in points] == [0.1, 0.2, 0.3, 0.4]


def test_ratings_all_alike_are_spread_by_their_rounding() -> None:
    """A third of a stop over sqrt(12), of two prints over sqrt(2), 6.314 for one degree of freedom."""
    [point] = trend(_days("2026-01-05", 2, 1), np.zeros(2))
    assert point.darkness.high == pytest.approx(6.313752 / 3 / 12**0.5 / 2**0.5)


def test_one_print_is_known_to_a_step_as_if_it_were_two() -> None:
    [point] = trend(_days("2026-01-05", 1, 1), np.zeros(1))
    assert point.darkness.high == pytest.approx(6.313752 / 3)


def test_forty_weeks_are_told_by_week_and_a_day_more_by_month() -> None:
    for days, by_week in ((280, True), (281, False)):
        ends = np.datetime64("2026-01-05") + np.array([0, 1, 25, days]).astype("timedelta64[D]")
        assert len(trend(ends, np.zeros(4))) == (3 if by_week else 2)
