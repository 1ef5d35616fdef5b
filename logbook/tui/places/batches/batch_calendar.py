"""The plan as a calendar: a row for each week, and in each day the black as a word and a texture, and what is printed."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from textual.content import Content

from logbook.records.fields import Black
from logbook.records.wording import DAYS, MONTHS, counted
from logbook.reports.batch.model import BatchAnswer, PlanEntry

__all__ = ["TEXTURE", "calendar"]

TEXTURE: dict[Black, str] = {"matte": "▒", "photo": "░"}
EXCHANGE = "⇄"
DUE = "◆"
LEAST_WEEKS, MOST_WEEKS = 2, 6
LINES_OF_DAY = 3


@dataclass(frozen=True)
class _Days:
    """What a day's cell is made from."""

    answer: BatchAnswer
    entries: dict[dt.date, list[PlanEntry]]
    promised: dict[dt.date, int]
    away: Sequence[tuple[dt.date, dt.date]]

    def is_away(self, day: dt.date) -> bool:
        return any(first <= day <= last for first, last in self.away)


def calendar(answer: BatchAnswer, away: Sequence[tuple[dt.date, dt.date]], width: int) -> list[Content]:
    """The coming weeks in ``width`` cells, from this one to the plan's last, six at most."""
    days = _Days(answer, _by_day(answer), _promises(answer), away)
    shown = [number for number in range(1, 8) if _has_column(answer, number)]
    monday = answer.today - dt.timedelta(days=answer.today.weekday())
    last = max([entry.date for entry in answer.plan], default=answer.today)
    weeks = min(MOST_WEEKS, max(LEAST_WEEKS, (last - monday).days // 7 + 1))
    column = max(9, width // max(len(shown), 1))
    lines: list[Content] = []
    for week in range(weeks):
        dates = [monday + dt.timedelta(days=7 * week + number - 1) for number in shown]
        cells = [_cell(days, day) for day in dates]
        lines += [Content("").join(_fitted(cell[line], column) for cell in cells) for line in range(LINES_OF_DAY)]
        lines.append(Content(""))
    return [*lines[:-1], *_more(answer, monday + dt.timedelta(days=7 * weeks))]


def _has_column(answer: BatchAnswer, weekday: int) -> bool:
    """Bench weekdays have a column, and today's."""
    return weekday in answer.basis.weekdays or weekday == answer.today.isoweekday()


def _by_day(answer: BatchAnswer) -> dict[dt.date, list[PlanEntry]]:
    found: dict[dt.date, list[PlanEntry]] = {}
    for entry in answer.plan:
        found.setdefault(entry.date, []).append(entry)
    return found


def _promises(answer: BatchAnswer) -> dict[dt.date, int]:
    found: dict[dt.date, int] = {}
    for order in answer.orders:
        if order.promised is not None:
            found[order.promised] = found.get(order.promised, 0) + 1
    return found


def _cell(days: _Days, day: dt.date) -> list[Content]:
    """The date, the black, and the prints of a day."""
    return [_date(days, day), *(Content.assemble(" ", part) for part in _printed(days, day))]


def _date(days: _Days, day: dt.date) -> Content:
    today = days.answer.today
    words = f"{DAYS[day.weekday()]} {day.day}" + (f" {MONTHS[day.month - 1][:3]}" if day.day == 1 else "")
    due = days.promised.get(day, 0)
    style = "bold underline" if day == today else "$quiet" if day < today else ""
    return Content.assemble("›" if day == today else " ", (words, style), (f" {DUE}{due}" if due else "", "$asks"))


def _printed(days: _Days, day: dt.date) -> list[Content]:
    entries = days.entries.get(day, [])
    if not entries:
        words = "" if day < days.answer.today else "away" if days.is_away(day) else "–"
        return [Content.styled(words, "$quiet"), Content("")]
    prints = {order.id: order.left for order in days.answer.orders}
    count = sum(prints.get(name, 0) for entry in entries for name in entry.orders)
    return [_black(entries), Content.styled(counted(count, "print"), "$quiet") if count else Content("")]


def _black(entries: list[PlanEntry]) -> Content:
    """Texture and word; a changeover stands between the two textures, and is what asks to be acted upon."""
    last = entries[-1]
    if not last.changeover:
        return Content(" ".join([TEXTURE[entry.black] for entry in entries] + [last.black]))
    before = f"{TEXTURE[entries[0].black]} " if len(entries) > 1 else ""
    return Content.assemble(before, (EXCHANGE, "$asks bold"), f" {TEXTURE[last.black]} ", (last.black, "bold"))


def _fitted(content: Content, width: int) -> Content:
    """Cut to leave a gap, and filled up."""
    shown = content.truncate(width - 1, ellipsis=True) if content.cell_length >= width else content
    return Content.assemble(shown, " " * max(0, width - shown.cell_length))


def _more(answer: BatchAnswer, end: dt.date) -> list[Content]:
    beyond = sum(entry.date >= end for entry in answer.plan)
    return [Content.styled(f"… and {counted(beyond, 'day')} more", "$quiet")] if beyond else []
