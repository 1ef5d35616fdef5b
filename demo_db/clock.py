"""The studio's days and clock: which days are worked, which black each has, and times with their offset."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta, timezone
from random import Random

from logbook.records.fields import Black, other_black

MONTHS = 18
WEEKDAYS = (1, 2, 3, 4, 5)
WORKED_SHARE = 0.72
AWAY = ((70, 84), (265, 279), (430, 437))  # days before the last on which the studio is shut
RUN_OF_DAYS: dict[Black, tuple[int, int]] = {"matte": (11, 18), "photo": (5, 9)}  # bench days between changeovers


@dataclass(frozen=True)
class BenchDay:
    """One day on which printing happens, with the black it prints and whether the day begins by exchanging it."""

    day: date
    black: Black
    exchanges: bool
    last: bool


def first_day(today: date) -> date:
    """The day 18 months before ``today`` (the 28th at the latest, so that every month has it).

    >>> first_day(date(2026, 11, 25))
    datetime.date(2025, 5, 25)
    """
    months = today.year * 12 + today.month - 1 - MONTHS
    return date(months // 12, months % 12 + 1, min(today.day, 28))


def bench_days(today: date, rng: Random) -> list[BenchDay]:
    """The bench days up to ``today``, in order; the last one is ``today`` itself, with matte black loaded."""
    days = [day for day in _weekdays(today) if rng.random() < WORKED_SHARE] + [today]
    blacks = list(_blacks_backwards(len(days), rng))[::-1]
    changed = [False] + [blacks[i] != blacks[i - 1] for i in range(1, len(blacks))]
    return [BenchDay(day, black, exchanges, day == today) for day, black, exchanges in zip(days, blacks, changed, strict=True)]


def _weekdays(today: date) -> Iterator[date]:
    day = first_day(today)
    while day < today:
        ago = (today - day).days
        if day.isoweekday() in WEEKDAYS and not any(start <= ago < end for start, end in AWAY):
            yield day
        day += timedelta(days=1)


def _blacks_backwards(days: int, rng: Random) -> Iterator[Black]:
    black: Black = "matte"
    left = 8
    for _ in range(days):
        if left == 0:
            black = other_black(black)
            left = rng.randint(*RUN_OF_DAYS[black])
        left -= 1
        yield black


def at(day: date, minutes: float) -> datetime:
    """The time ``minutes`` after midnight of ``day``, at the studio's offset (one hour more in summer).

    >>> at(date(2026, 7, 1), 600).isoformat()
    '2026-07-01T10:00:00+02:00'
    """
    offset = timezone(timedelta(hours=2 if _summer(day) else 1))
    return datetime.combine(day, time(0), offset) + timedelta(minutes=int(minutes))


def _summer(day: date) -> bool:
    return _last_sunday(day.year, 3) <= day < _last_sunday(day.year, 10)


def _last_sunday(year: int, month: int) -> date:
    last = date(year, month, 31)
    return last - timedelta(days=last.isoweekday() % 7)
