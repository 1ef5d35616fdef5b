"""Days and times as people write them."""

from datetime import date, datetime, time, timedelta, timezone

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.records.days import parse_day, parse_moment
from logbook.records.wording import MONTHS

FRIDAY = date(2026, 11, 27)
NOW = datetime(2026, 11, 27, 15, 0, tzinfo=timezone(timedelta(hours=1)))
DAYS = st.dates(date(1900, 1, 1), date(2999, 12, 31))
WEEKDAYS = ("mon", "tues", "wednesday", "thu", "fri", "sat", "sun")


@pytest.mark.parametrize(
    ("text", "ahead", "past"),
    [
        ("today", FRIDAY, FRIDAY),
        ("Yesterday", date(2026, 11, 26), date(2026, 11, 26)),
        ("tomorrow", date(2026, 11, 28), date(2026, 11, 28)),
        ("+8", date(2026, 12, 5), date(2026, 12, 5)),
        ("4 dec", date(2026, 12, 4), date(2025, 12, 4)),
        ("dec 4", date(2026, 12, 4), date(2025, 12, 4)),
        ("4th of December", date(2026, 12, 4), date(2025, 12, 4)),
        ("3.12.", date(2026, 12, 3), date(2025, 12, 3)),
        ("3. 12. 2026", date(2026, 12, 3), date(2026, 12, 3)),
        ("3.12.26", date(2026, 12, 3), date(2026, 12, 3)),
        ("2026-12-04", date(2026, 12, 4), date(2026, 12, 4)),
        ("20/11", date(2027, 11, 20), date(2026, 11, 20)),
        ("11/20", date(2027, 11, 20), date(2026, 11, 20)),
        ("29 feb", date(2028, 2, 29), date(2024, 2, 29)),
        ("fri", FRIDAY, FRIDAY),
        ("next fri", date(2026, 12, 4), date(2026, 12, 4)),
        ("last fri", date(2026, 11, 20), date(2026, 11, 20)),
        ("mon", date(2026, 11, 30), date(2026, 11, 23)),
    ],
)
def test_a_day_is_the_next_such_day_or_the_last_one(text: str, ahead: date, past: date) -> None:
    assert parse_day(text, FRIDAY) == ahead
    assert parse_day(text, FRIDAY, past=True) == past


@pytest.mark.parametrize(
    "text", ["", "soon", "31.4.", "30 feb", "de 4", "ma 4", "13/13", "next", "4", "+9999999", "32 dec", "0.1."]
)
def test_what_is_no_day_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is not a day"):
        parse_day(text, FRIDAY)


def test_two_numbers_that_may_be_either_are_not_guessed() -> None:
    with pytest.raises(ValueError, match="3 dec or 12 mar"):
        parse_day("3/12", FRIDAY)
    with pytest.raises(ValueError, match="3 dec or 12 mar"):
        parse_moment("3/12 9:05", NOW)


@given(day=DAYS, today=DAYS, past=st.booleans(), three=st.booleans())
def test_a_day_with_its_year_is_itself_however_it_is_written(day: date, today: date, past: bool, three: bool) -> None:
    month = MONTHS[day.month - 1][: 3 if three else None]
    for text in (
        day.isoformat(),
        f"{day.day}.{day.month}.{day.year:04}",
        f"{day.day} {month} {day.year:04}",
        f"{month.upper()} {day.day}, {day.year:04}",
    ):
        assert parse_day(text, today, past=past) == day


@given(day=DAYS, today=DAYS.filter(lambda day: 1910 < day.year < 2990))
def test_without_a_year_it_is_the_nearest_on_its_side(day: date, today: date) -> None:
    ahead, past = (parse_day(f"{day.day}.{day.month}.", today, past=past) for past in (False, True))
    assert past <= today <= ahead
    assert {(found.day, found.month) for found in (ahead, past)} == {(day.day, day.month)}
    assert ahead == past == today or (day.month, day.day) == (2, 29) or ahead.year - past.year == 1


@given(today=DAYS, number=st.integers(0, 6))
def test_a_weekday_is_within_a_week(today: date, number: int) -> None:
    name = WEEKDAYS[number]
    assert parse_day(name, today).weekday() == parse_day(f"last {name}", today).weekday() == number
    assert 0 <= (parse_day(name, today) - today).days <= 6
    assert 0 <= (today - parse_day(name, today, past=True)).days <= 6
    assert 1 <= (parse_day(f"next {name}", today) - today).days <= 7
    assert 1 <= (today - parse_day(f"last {name}", today)).days <= 7


@pytest.mark.parametrize(
    ("text", "at"),
    [
        ("14:02", "2026-11-27T14:02:00+01:00"),
        ("9:05", "2026-11-27T09:05:00+01:00"),
        ("yesterday 16:30", "2026-11-26T16:30:00+01:00"),
        ("yesterday at 4:30 pm", "2026-11-26T16:30:00+01:00"),
        ("12:10am", "2026-11-27T00:10:00+01:00"),
        ("4 dec 9:05", "2025-12-04T09:05:00+01:00"),
        ("mon 9:05", "2026-11-23T09:05:00+01:00"),
        ("2026-11-02", "2026-11-02T12:00:00+01:00"),
        ("2026-11-02 9:05", "2026-11-02T09:05:00+01:00"),
        ("2026-11-02T09:05:07+02:00", "2026-11-02T09:05:07+02:00"),
    ],
)
def test_a_moment_is_a_time_of_today_or_of_the_last_such_day(text: str, at: str) -> None:
    assert parse_moment(text, NOW).isoformat() == at


@pytest.mark.parametrize("text", ["", "noon", "25:00", "14:62", "13:00 pm", "soon 14:02", "2026-13-02 09:05"])
def test_what_is_no_moment_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match="is no time"):
        parse_moment(text, NOW)


@given(day=DAYS, minutes=st.integers(0, 24 * 60 - 1))
def test_a_moment_written_out_comes_back(day: date, minutes: int) -> None:
    at = datetime.combine(day, time(minutes // 60, minutes % 60), NOW.tzinfo)
    assert parse_moment(f"{at:%Y-%m-%d %H:%M}", NOW) == parse_moment(at.isoformat(), NOW) == at


@given(text=st.text(max_size=30))
def test_anything_else_is_a_refusal_and_nothing_worse(text: str) -> None:
    try:
        assert isinstance(parse_day(text, FRIDAY), date)
    except ValueError as error:
        assert "day" in str(error)
    try:
        assert parse_moment(text, NOW).tzinfo is not None
    except ValueError as error:
        assert "type" in str(error)
