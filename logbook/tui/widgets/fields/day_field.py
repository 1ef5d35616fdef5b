"""Fields in which a day or a moment is typed."""

from __future__ import annotations

from datetime import date, datetime, time

from logbook.tui.widgets.fields.text_field import ParsedField

NOON = time(12)


def date_field(
    name: str, label: str, value: date | None = None, *, today: date, aside: str = "", placeholder: str = "2026-12-03"
) -> ParsedField:
    """A day: ``2026-12-03``, ``3.12.``, ``+10`` (days from today); its value is a ``date``."""
    return ParsedField(
        name, label, lambda text: parse_day(text, today), date.isoformat, value, aside=aside, placeholder=placeholder
    )


def moment_field(
    name: str, label: str, value: datetime | None = None, *, now: datetime, aside: str = "", placeholder: str = "now"
) -> ParsedField:
    """A moment: ``14:02`` today, a day, or both; its value is a ``datetime`` with its offset."""
    return ParsedField(
        name, label, lambda text: parse_moment(text, now), _moment_text, value, aside=aside, placeholder=placeholder, width=17
    )


def _moment_text(at: datetime) -> str:
    return f"{at:%Y-%m-%d %H:%M}"


def parse_day(text: str, today: date) -> date:
    """The day that was typed: an ISO date, day and month (the next such day), or ``+`` and a number of days.

    >>> parse_day("3.12.", date(2026, 11, 25)), parse_day("+8", date(2026, 11, 25))
    (datetime.date(2026, 12, 3), datetime.date(2026, 12, 3))
    """
    typed = text.strip()
    try:
        if typed.startswith("+"):
            return date.fromordinal(today.toordinal() + int(typed[1:]))
        if "-" in typed:
            return date.fromisoformat(typed)
        day, month, *year = (int(part) for part in typed.strip(".").replace("/", ".").split("."))
        if year:
            return date(year[0], month, day)
        this_year = date(today.year, month, day)
        return this_year if this_year >= today else date(today.year + 1, month, day)
    except (ValueError, OverflowError):
        raise ValueError(f"{typed[:20]!r} is not a day: type 2026-12-03, 3.12. or +8") from None


def parse_moment(text: str, now: datetime) -> datetime:
    """A time of today, a day and a time, or a day alone (noon of it); with the offset of ``now`` unless one is typed.

    >>> now = datetime.fromisoformat("2026-11-25T15:00:00+01:00")
    >>> parse_moment("14:02", now).isoformat(), parse_moment("2026-11-02", now).isoformat()
    ('2026-11-25T14:02:00+01:00', '2026-11-02T12:00:00+01:00')
    """
    day, _, clock = text.strip().replace("T", " ").rpartition(" ")
    if ":" not in clock:
        day, clock = clock, ""
    try:
        at = datetime.combine(
            date.fromisoformat(day) if day else now.date(), time.fromisoformat(clock.rjust(5, "0")) if clock else NOON
        )
    except ValueError:
        raise ValueError(f"{text.strip()[:20]!r} is no time: type 14:02 or 2026-11-25 14:02") from None
    return at.replace(tzinfo=now.tzinfo) if at.tzinfo is None else at
