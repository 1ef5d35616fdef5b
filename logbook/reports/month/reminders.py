"""What the log itself asks to be done: a calibration, a nozzle check, a wedge, the reference print, a judgement."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

import numpy as np

from logbook.analysis.month.figures import known
from logbook.records import Cleaning, Paper, Printer, Screen, Stock, Wedge
from logbook.records.wording import counted_in_words, date_in_full
from logbook.reports.darkness.reference import reference
from logbook.reports.month.model import Reminder
from logbook.snapshot import Snapshot
from logbook.store import columns

__all__ = ["reminders_of"]

# How long is too long is common practice, without a source: a month for a screen, two weeks for the nozzles.
CALIBRATION_WEEKS = 4
NOZZLE_WEEKS = 2
#: The reference print is judged again every month; so many prints of late are worth beginning one.
REFERENCE_WEEKS, FEWEST_PRINTS = 4, 40
#: A screen or a paper that no print used for this long asks for nothing.
IN_USE = np.timedelta64(92, "D")


def reminders_of(log: Snapshot, prints: columns.Prints, on: dt.date) -> tuple[Reminder, ...]:
    """What is to be done on a day; ``prints`` are those up to it, of the last months at least."""
    today = np.datetime64(on)
    recent = prints.where((prints.day > today - IN_USE) & (prints.day <= today))
    of_each = (_screens, _nozzles, _wedges, _reference)
    return (*(one for due in of_each for one in due(log, recent, on)), *_waiting(recent))


def _screens(log: Snapshot, recent: columns.Prints, on: dt.date) -> Iterator[Reminder]:
    for screen in log.all(Screen):
        used = int(np.count_nonzero(recent.screen == screen.id))
        if not used:
            continue
        if screen.calibrated is None:
            prints = counted_in_words(used, "print")
            text = f"calibrate {screen.name}: no calibration is logged, and it served {prints} in three months"
            yield Reminder(kind="screen", id=screen.id, text=text)
        elif (weeks := (on - screen.calibrated.date()).days // 7) >= CALIBRATION_WEEKS:
            text = f"calibrate {screen.name}: the last time was {weeks} weeks ago"
            yield Reminder(kind="screen", id=screen.id, text=text)


def _nozzles(log: Snapshot, recent: columns.Prints, on: dt.date) -> Iterator[Reminder]:
    """A cleaning that noted whether the check was clear is the only nozzle check a log holds."""
    checks = [clean for clean in log.all(Cleaning) if clean.at.date() <= on and _checked(clean)]
    used = sorted(set(recent.printer.tolist()))
    named = {one.id: f"{one.name}: " if len(used) > 1 else "" for one in log.all(Printer)}
    for printer in used:
        mine = [clean for clean in checks if clean.printer == printer]
        if not mine:
            yield Reminder(kind="nozzles", id=printer, text=f"{named[printer]}check the nozzles: no check is logged yet")
            continue
        weeks = (on - mine[-1].at.date()).days // 7
        if not _was_clear(mine[-1]):
            text = f"{named[printer]}check the nozzles again: on {date_in_full(mine[-1].at.date())} they were not clear"
            yield Reminder(kind="nozzles", id=printer, text=text)
        elif weeks >= NOZZLE_WEEKS:
            yield Reminder(
                kind="nozzles", id=printer, text=f"{named[printer]}check the nozzles: the last check is {weeks} weeks old"
            )


def _checked(cleaning: Cleaning) -> bool:
    return cleaning.clear_before is not None or cleaning.clear_after is not None


def _was_clear(cleaning: Cleaning) -> bool | None:
    return cleaning.clear_before if cleaning.clear_after is None else cleaning.clear_after


def _wedges(log: Snapshot, recent: columns.Prints, on: dt.date) -> Iterator[Reminder]:
    """A wedge tells the paper it was printed on: another roll or box may hold its dark steps differently."""
    wedges, stocks = log.all(Wedge), log.all(Stock)
    for paper in log.all(Paper):
        if not np.any(recent.paper == paper.id):
            continue
        read = [wedge.at for wedge in wedges if wedge.paper == paper.id and wedge.at.date() <= on]
        opened = max((stock.opened.date() for stock in stocks if stock.paper == paper.id and _open(stock, on)), default=None)
        if not read:
            yield Reminder(kind="wedge", id=paper.id, text=f"print a wedge on {paper.name}: none has been read yet")
        elif opened and (last := max(read).date()) < opened:
            roll = "roll" if paper.form == "roll" else "box"
            text = f"print a wedge on {paper.name}: the last reading, {date_in_full(last)}, is older than the {roll} in use"
            yield Reminder(kind="wedge", id=paper.id, text=text)


def _open(stock: Stock, on: dt.date) -> bool:
    return stock.opened.date() <= on and (stock.closed is None or stock.closed.date() > on)


def _reference(log: Snapshot, recent: columns.Prints, on: dt.date) -> Iterator[Reminder]:
    """One kept print judged again every month tells the eye's drift, and the lamp's, from the printer's."""
    found = reference(log)
    if found is None or len(recent) < FEWEST_PRINTS:
        return
    if not found.begun:
        why = "no print is judged again every month, so the eye cannot be told from the printer"
        text = f"{why}: V in Tone begins with {found.called}"
        yield Reminder(kind="reference", id=found.print, text=text)
    elif (weeks := (on - found.last).days // 7) >= REFERENCE_WEEKS:
        text = f"the reference print, {found.called}, was last judged {weeks} weeks ago: V in Tone judges it again"
        yield Reminder(kind="reference", id=found.print, text=text)


def _waiting(recent: columns.Prints) -> Iterator[Reminder]:
    waiting = int(np.count_nonzero(~known(recent.verdict) & (recent.purpose != "strip")))
    if waiting:
        prints, wait = counted_in_words(waiting, "print"), "it waits" if waiting == 1 else "they wait"
        yield Reminder(kind="judgement", id=None, text=f"judge {prints} of the last three months: {wait} for a verdict")
