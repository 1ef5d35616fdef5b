"""The days on which printing happens."""

from __future__ import annotations

import datetime as dt
from collections.abc import Collection, Iterator, Sequence
from itertools import takewhile

__all__ = ["Away", "bench_days", "is_bench_day"]

#: Away from the first date to the second, both included.
Away = tuple[dt.date, dt.date]

LAST_DAY = dt.date(2999, 12, 31)
_ONE_DAY = dt.timedelta(days=1)


def is_bench_day(day: dt.date, weekdays: Collection[int], away: Sequence[Away] = ()) -> bool:
    """Whether printing happens on ``day``; ``weekdays`` are 1 to 7, Monday = 1.

    >>> is_bench_day(dt.date(2026, 11, 25), {3}), is_bench_day(dt.date(2026, 11, 25), {1, 2})
    (True, False)
    """
    return day.isoweekday() in weekdays and not any(first <= day <= last for first, last in away)


def bench_days(start: dt.date, weekdays: Collection[int], away: Sequence[Away] = ()) -> Iterator[dt.date]:
    """The bench days from ``start`` on (itself included if it is one), in order.

    They end with the calendar of the logbook, or at once where no weekday is a bench day.

    >>> [day.day for day, _ in zip(bench_days(dt.date(2026, 11, 26), {1, 4, 5}), range(4))]
    [26, 27, 30, 3]
    """
    if not any(1 <= weekday <= 7 for weekday in weekdays):
        return
    for day in takewhile(lambda day: day <= LAST_DAY, _days(start)):
        if is_bench_day(day, weekdays, away):
            yield day


def _days(start: dt.date) -> Iterator[dt.date]:
    day = start
    while True:
        yield day
        day += _ONE_DAY
