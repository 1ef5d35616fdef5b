"""Days and times as people write them: ``yesterday 16:30``, ``4 dec``, ``3.12.``, ``next fri``. Common practice, no source."""

import re
from datetime import date, datetime, time, timedelta

from logbook.records.wording import MONTHS

NOON = time(12)
TIME_SHOWN, DAY_SHOWN = "%Y-%m-%d %H:%M", "%Y-%m-%d"
_FROM_TODAY = {"yesterday": -1, "today": 0, "tomorrow": 1}
_MONTHS = {month.lower(): number for number, month in enumerate(MONTHS, start=1)}
_WEEKDAYS = {"monday": 0, "tuesday": 1, "wednesday": 2, "thursday": 3, "friday": 4, "saturday": 5, "sunday": 6}
_CLOCK = re.compile(r"(?:^|[t\s])(\d{1,2}):(\d{2})(?::(\d{2}))?\s*([ap]m)?$")
_YEARS_TO_A_LEAP_DAY = 8


def parse_day(text: str, today: date, *, past: bool = False) -> date:
    """The day that was typed, seen from ``today``; ``ValueError`` where it is none, or may be two.

    Without a year it is the next such day, or with ``past`` the last one; ``today`` itself is both. ``+8`` is so many days
    from today. Of two numbers between full stops the first is the day.

    >>> friday = date(2026, 11, 27)
    >>> [f"{parse_day(text, friday):%d.%m.%Y}" for text in ("3.12.", "dec 4", "+8", "mon", "fri", "next fri", "yesterday")]
    ['03.12.2026', '04.12.2026', '05.12.2026', '30.11.2026', '27.11.2026', '04.12.2026', '26.11.2026']
    >>> parse_day("4 dec", friday, past=True), parse_day("mon", friday, past=True)
    (datetime.date(2025, 12, 4), datetime.date(2026, 11, 23))
    """
    words = text.lower().replace(",", " ").split()
    try:
        return _weekday(words, today, past) or _day(" ".join(words), today, past)
    except (LookupError, ValueError, OverflowError) as error:
        why = f"may be two days: type {error}" if isinstance(error, _TwoDays) else "is not a day: type 3.12., 4 dec, mon or +8"
        raise ValueError(f"{text.strip()[:20]!r} {why}") from None


def parse_moment(text: str, now: datetime) -> datetime:
    """The moment that was typed: a time of today, a day and a time, or a day alone (noon of it); ``ValueError`` where it is none.

    A day without a year is the last such day. The offset is that of ``now`` unless one is typed.

    >>> now = datetime.fromisoformat("2026-11-25T15:00:00+01:00")
    >>> parse_moment("14:02", now).isoformat(), parse_moment("yesterday 4:30 pm", now).isoformat()
    ('2026-11-25T14:02:00+01:00', '2026-11-24T16:30:00+01:00')
    """
    typed = text.strip()
    try:
        if re.fullmatch(r"\d{4}-\d\d-\d\d[T ].*", typed):
            at = datetime.fromisoformat(typed)
            return at.replace(tzinfo=now.tzinfo) if at.tzinfo is None else at
    except ValueError:
        pass  # a single figure for the hour, say
    try:
        clock = _CLOCK.search(typed.lower())
        day = (typed[: clock.start()] if clock else typed).strip(" ,").removesuffix(" at")
        if not (clock or day):
            raise ValueError
        at = datetime.combine(parse_day(day, now.date(), past=True) if day else now.date(), _time(clock))
    except ValueError as error:
        two = str(error) if "may be two" in str(error) else ""
        raise ValueError(two or f"{typed[:20]!r} is no time: type 14:02, yesterday 16:30 or 4 dec 9:05") from None
    return at.replace(tzinfo=now.tzinfo)


class _TwoDays(ValueError):
    """Two numbers of which either may be the day; says what to type instead."""


def _weekday(words: list[str], today: date, past: bool) -> date | None:
    """The day that a weekday's name means, alone or with ``next`` or ``last``; None where there is no such name."""
    which, name = words if len(words) == 2 and words[0] in ("next", "last") else ("", " ".join(words))
    number = _called(name, _WEEKDAYS)
    if number is None:
        return None
    if which == "last" or (past and not which):
        return today - timedelta(days=(today.weekday() - number) % 7 or 7 * (which == "last"))
    return today + timedelta(days=(number - today.weekday()) % 7 or 7 * (which == "next"))


def _day(typed: str, today: date, past: bool) -> date:
    by = _called(typed, _FROM_TODAY)
    if by is not None or re.fullmatch(r"[+-]\d{1,6}", typed):
        return today + timedelta(days=int(typed) if by is None else by)
    if found := re.fullmatch(r"(\d{4})-(\d{1,2})-(\d{1,2})", typed):
        return date(*map(int, found.groups()))
    if found := re.fullmatch(r"(\d{1,2})([./])\s?(\d{1,2})(?:[./]\s?(\d{4}|\d\d)?)?", typed):
        day, month = int(found[1]), int(found[3])
        if found[2] == "/" and day != month:
            day, month = _told_apart(day, month)
        return _in_its_year(day, month, found[4], today, past)
    found = re.fullmatch(r"(\d{1,2})(?:\.|st|nd|rd|th)?(?: of)? ?([a-z]+)\.?(?: (\d{4}))?", typed)
    if found:
        return _in_its_year(int(found[1]), _month(found[2]), found[3], today, past)
    found = re.fullmatch(r"([a-z]+)\.? ?(\d{1,2})(?:\.|st|nd|rd|th)?(?: (\d{4}))?", typed)
    if found is None:
        raise ValueError
    return _in_its_year(int(found[2]), _month(found[1]), found[3], today, past)


def _told_apart(first: int, second: int) -> tuple[int, int]:
    """Day and month of two numbers with a stroke between them, which are written both ways."""
    if max(first, second) <= 12:
        raise _TwoDays(f"{first} {MONTHS[second - 1][:3].lower()} or {second} {MONTHS[first - 1][:3].lower()}")
    return (first, second) if second <= 12 else (second, first)


def _in_its_year(day: int, month: int, year: str | None, today: date, past: bool) -> date:
    """That day of the year written with it, else of the next year, or with ``past`` the last one, in which it comes."""
    if year:
        return date(int(year) + (2000 if len(year) == 2 else 0), month, day)
    for by in range(_YEARS_TO_A_LEAP_DAY + 1):
        try:
            found = date(today.year + (-by if past else by), month, day)
        except ValueError:
            continue  # 29 February
        if found <= today if past else found >= today:
            return found
    raise ValueError


def _month(name: str) -> int:
    found = _called(name, _MONTHS)
    if found is None:
        raise LookupError(name)
    return found


def _called(name: str, names: dict[str, int]) -> int | None:
    """What a name stands for, written out or from three letters on."""
    return next((value for known, value in names.items() if len(name) >= 3 and known.startswith(name)), None)


def _time(clock: re.Match[str] | None) -> time:
    """The time of day of what was found, noon where nothing was."""
    if clock is None:
        return NOON
    hour = int(clock[1])
    if clock[4]:
        if not 1 <= hour <= 12:
            raise ValueError
        hour = hour % 12 + (12 if clock[4] == "pm" else 0)
    return time(hour, int(clock[2]), int(clock[3] or 0))
