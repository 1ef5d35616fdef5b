"""The day in a cell, whichever way it is written; which of two numbers is the day is decided from a whole column.

Ways of writing: common practice, no source, from memory.
"""

import re
from collections.abc import Iterable
from datetime import date, datetime, time, timedelta
from typing import Literal

from logbook.actions.adopting.vocabulary import MONTHS, words

Order = Literal["day first", "month first"]
ORDERS: tuple[Order, Order] = ("day first", "month first")

_CLOCK = re.compile(r"(?:^|[T,\s]+)(\d{1,2})[:h](\d{2})(?::(\d{2})(?:\.\d+)?)?\s*([ap])?\.?m?\.?$", re.IGNORECASE)
_IN_SEQUENCE = 6  # with so many dates it is no accident that only one order puts them in sequence
_SERIAL_DAYS = (date(1899, 12, 30), range(20_000, 80_000))  # how spreadsheets count days, for the years 1954 to 2118


def day(text: str, order: Order | None, today: date) -> datetime:
    """The day and time in a cell, without an offset where none is written; noon where no time is.

    >>> day("3/4/25", "day first", date(2026, 1, 1)).isoformat(), day("14. März 2025, 9:30", None, date(2026, 1, 1)).isoformat()
    ('2025-04-03T12:00:00', '2025-03-14T09:30:00')
    """
    try:
        found = datetime.fromisoformat(text.strip())
        return found.replace(hour=12) if len(text.strip()) <= 10 else found
    except ValueError:
        pass
    first, within = _SERIAL_DAYS
    if text.strip().isdecimal() and int(text) in within:
        return datetime.combine(first + timedelta(days=int(text)), time(12))
    try:
        return datetime.combine(_day(text, order, today), clock(text))
    except (ValueError, TypeError):
        raise ValueError(f"{text.strip()[:40]!r} is not a day; write it like 2025-03-14") from None


def clock(text: str) -> time:
    """The time in a cell, or at the end of a date; noon where there is none.

    >>> clock("2:05 pm").isoformat()
    '14:05:00'
    """
    found = _CLOCK.search(text)
    if found is None:
        return time(12)
    hour = int(found[1]) % 12 + (12 if found[4].lower() == "p" else 0) if found[4] else int(found[1])
    return time(hour, int(found[2]), int(found[3] or 0))


def _day(text: str, order: Order | None, today: date) -> date:
    numbers, month = _parts(text)
    if len(numbers) == 2 and month:
        year, day = sorted(numbers, key=len, reverse=True) if len(numbers[0]) == 4 else numbers[::-1]
        return date(_year(year, today), month, int(day))
    first, second, third = numbers
    if len(first) == 4:
        return date(int(first), int(second), int(third))
    if order is None and int(first) != int(second):
        order = "day first" if int(first) > 12 else "month first" if int(second) > 12 else None
        if order is None:
            raise ValueError
    if order == "month first":
        first, second = second, first
    return date(_year(third, today), int(second), int(first))


def _parts(text: str) -> tuple[list[str], int | None]:
    """The numbers of a date, and its month where that is a word."""
    tokens = re.findall(r"\d+|[a-z]+", words(_CLOCK.sub("", text)))
    month = next((found for word in tokens if (found := MONTHS.get(word[:4]) or MONTHS.get(word[:3]))), None)
    return [token for token in tokens if token.isdecimal()], int(month) if month else None


def _year(text: str, today: date) -> int:
    if len(text) == 2:
        return 2000 + int(text) - (100 if 2000 + int(text) > today.year else 0)
    if len(text) != 4:
        raise ValueError
    return int(text)


def day_order(texts: Iterable[str], today: date) -> Order | None:
    """Which of two numbers is the day, from all the dates of a column; None where both fit, or neither fits all.

    >>> day_order(["03/14/2025", "04/05/2025"], date(2026, 1, 1)), day_order(["3/4/25", "2/5/25"], date(2026, 1, 1))
    ('month first', None)
    """
    open_ones = [text for text in texts if is_open(text)]
    if open_ones and all("." in text for text in open_ones):
        return "day first"  # no language writes the month first between full stops
    fits: list[Order] = []
    for order in ORDERS:
        try:
            if all(_day(text, order, today) <= today for text in open_ones):
                fits.append(order)
        except ValueError:
            continue
    if len(fits) == 2 and len(set(open_ones)) >= _IN_SEQUENCE:
        fits = [order for order in fits if (run := [_day(text, order, today) for text in open_ones]) == sorted(run)]
    return fits[0] if len(fits) == 1 else None


def is_open(text: str) -> bool:
    """Whether a date is of three numbers, of which either of the first two may be the day."""
    numbers, _ = _parts(text)
    return len(numbers) == 3 and len(numbers[0]) <= 2 and len(numbers[2]) in (2, 4)
