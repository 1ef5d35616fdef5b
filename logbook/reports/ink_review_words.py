"""The ink review in sentences."""

from __future__ import annotations

import datetime as dt

from logbook.records.text import plain
from logbook.records.units import share_text
from logbook.records.wording import ink_text
from logbook.reports.ink.review import InkReview
from logbook.reports.ink.words import sentences

__all__ = ["date_text", "review_sentences"]


def review_sentences(review: InkReview) -> list[str]:
    """What an exchange wastes, this year's share, and the ink that runs out first."""
    if review.printer is None:
        return ["No printer is described yet: it stands on Shelf (7). Then press r to read its gauge."]
    said = [one for one in sentences(review.answer) if not one.startswith("Of ")]
    first = _first_out(review)
    said += [first] if first else []
    year = review.year
    if year.used > 0.0 and review.answer.directions:
        share = share_text(year.changeovers / year.used)
        said.append(f"This year {year.changeovers:,.0f} of {year.used:,.0f} ml went to changeovers: {share} of all ink.")
    if not review.answer.gauges:
        said.append("Press r to type the levels that the printer shows, as one row of numbers.")
    return said


def date_text(day: dt.date, today: dt.date) -> str:
    """A day as short as it is clear.

    >>> date_text(dt.date(2027, 1, 4), dt.date(2026, 11, 25)), date_text(dt.date(2026, 12, 4), dt.date(2026, 11, 25))
    ('4 Jan ’27', '4 Dec')
    """
    return f"{day.day} {day:%b}" if day.year == today.year else f"{day.day} {day:%b ’%y}"


def _first_out(review: InkReview) -> str | None:
    """The ink that runs out first, and the orders that any ink would not reach."""
    known = [row for row in review.levels if row.reach is not None]
    out = [(row.reach.runs_out.value, row) for row in known if row.reach is not None and row.reach.runs_out is not None]
    short = [row for row in known if row.reach is not None and row.reach.missed]
    if short:
        names = ", ".join(ink_text(row.level.ink) for row in short)
        count = max(len(row.reach.missed) for row in short if row.reach is not None)
        return f"Not enough for the open orders: {plain(names)}, short for {count} of them."
    if not out:
        return None
    day, first = min(out, key=lambda pair: pair[0])
    return f"At the present pace {ink_text(first.level.ink)} runs out first, about {date_text(day, review.today)}."
