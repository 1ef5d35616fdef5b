"""Sheets that came out of the printer and are not in the log, as its queue and its own counter tell."""

from __future__ import annotations

from collections import Counter
from datetime import date, datetime, timedelta
from itertools import pairwise
from typing import Any

import msgspec

from logbook.records.wording import date_text
from logbook.snapshot import planned
from logbook.snapshot.printer import printer_in_use
from logbook.snapshot.sheet_counts import sheet_counts
from logbook.snapshot.snapshot import Snapshot, take
from logbook.store import Store, lately, queued

SHEETS, SETTLED = "queue_sheets", "sheets_settled"
DAYS = 14  # what is older nobody remembers


class Unlogged(msgspec.Struct, frozen=True):
    """How many sheets, the first day of them, and whether the printer's counter says so or else its queue."""

    sheets: int
    since: date
    counted: bool = False

    def words(self, today: date) -> str:
        """The sentence.

        >>> Unlogged(3, date(2026, 11, 23)).words(date(2026, 11, 27))
        '3 sheets since Monday are not in the log.'
        """
        days = (today - self.since).days
        since = "of today" if days <= 0 else f"since {self.since:%A}" if days < 7 else f"since {date_text(self.since, today)}"
        one = self.sheets == 1
        by = ", by the printer's own count" if self.counted else ""
        return f"{'One sheet' if one else f'{self.sheets:,} sheets'} {since} {'is' if one else 'are'} not in the log{by}."


def unlogged(store: Store, day: date | None = None) -> Unlogged | None:
    """The sheets that are neither logged nor said to be no print, from whichever saw more of them; None where all are."""
    log = take(store, day)
    settled = log.preference(SETTLED)
    after = max(datetime.fromisoformat(settled) if settled else _days_ago(log.day), _days_ago(log.day))
    told = [one for one in (_by_queue(store, log, after), _by_counter(store, log, after)) if one is not None]
    return max(told, key=lambda one: one.sheets, default=None)


def sheets_kept(kept: Any) -> dict[str, tuple[datetime, int]]:
    """By job, when it was done and how many sheets it took beside its copies; nothing where what is kept makes no sense."""
    try:
        return msgspec.convert(kept, dict[str, tuple[datetime, int]])
    except msgspec.ValidationError:
        return {}


def _by_queue(store: Store, log: Snapshot, after: datetime) -> Unlogged | None:
    """The copies that wait, and on each day the sheets beside all copies that were not logged by hand."""
    missing = Counter(copy.at.date() for copy in queued.waiting(store) if copy.queue != planned.QUEUE)
    beside: Counter[date] = Counter()
    for at, sheets in sheets_kept(log.preference(SHEETS, {})).values():
        beside[at.date()] += sheets if at > after else 0
    by_hand = log.ask(lately.logged_by_hand, after) if beside else {}
    missing += beside - Counter(by_hand)
    return Unlogged(missing.total(), min(missing)) if missing else None


def _by_counter(store: Store, log: Snapshot, after: datetime) -> Unlogged | None:
    printer = printer_in_use(log)
    counts = sheet_counts(log, printer.id) if printer is not None else []
    missing: Counter[date] = Counter()
    for (before, first), (at, then) in pairwise(counts):
        if printer is not None and at > after:
            known = lately.logged_between(store, printer.id, before, at) + queued.no_prints_between(store, before, at)
            missing[before.date()] += max(0, then - first - known)
    missing += Counter()  # without the days of which all is known
    return Unlogged(missing.total(), min(missing), counted=True) if missing else None


def _days_ago(day: date) -> datetime:
    return datetime.combine(day - timedelta(days=DAYS), datetime.min.time()).astimezone()
