"""Days on which printing happens."""

import datetime as dt
from itertools import islice

from logbook.analysis.batch.bench_days import bench_days, is_bench_day

WEDNESDAY = dt.date(2026, 11, 25)


def test_today_counts_if_its_weekday_does() -> None:
    assert next(bench_days(WEDNESDAY, {3})) == WEDNESDAY
    assert next(bench_days(WEDNESDAY, {2})) == dt.date(2026, 12, 1)


def test_days_away_are_left_out_both_ends_included() -> None:
    away = [(dt.date(2026, 11, 26), dt.date(2026, 11, 30))]
    days = list(islice(bench_days(WEDNESDAY, {1, 2, 3, 4, 5}, away), 2))
    assert days == [WEDNESDAY, dt.date(2026, 12, 1)]
    assert not is_bench_day(dt.date(2026, 11, 30), {1}, away)


def test_without_a_weekday_there_is_no_day_at_all() -> None:
    assert list(bench_days(WEDNESDAY, set())) == []


def test_being_away_for_ever_ends_with_the_calendar() -> None:
    assert list(bench_days(dt.date(2999, 12, 1), {1, 2}, [(WEDNESDAY, dt.date(2999, 12, 31))])) == []


def test_the_days_end_with_the_calendar_of_the_logbook() -> None:
    assert list(bench_days(dt.date(2999, 12, 30), {1, 2, 3, 4, 5, 6, 7})) == [dt.date(2999, 12, 30), dt.date(2999, 12, 31)]
