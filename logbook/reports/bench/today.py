"""Today at the bench: the printer now, the day's prints, and what waits for a judgement."""

from __future__ import annotations

from datetime import date, datetime

import msgspec

from logbook.records import Paper, Print
from logbook.records.fields import Black
from logbook.records.text import plain
from logbook.records.units import length_text, size_text
from logbook.records.wording import date_text, ink_text
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import orders_left
from logbook.snapshot.printer import InkLevel, levels_now, loaded_black, printer_in_use
from logbook.snapshot.setup import steps_left
from logbook.snapshot.stock import length_used_mm, roll_left_mm, roll_width_mm, sheets_left, stock_in_use
from logbook.store import conflicts, history, lately
from logbook.store.history import Line

WAITING_SHOWN, AGAIN_SHOWN = 100, 1_000
SOON_DAYS = 7


class RollNow(msgspec.Struct, frozen=True, kw_only=True):
    """What is left of the roll or box in use, and how many prints of the last size that makes."""

    paper: str
    left_mm: float | None = None
    sheets: int | None = None
    prints: int | None = None
    size: str = ""


class Promise(msgspec.Struct, frozen=True):
    """An open order with a day, and the prints it still asks for."""

    title: str
    promised: date
    left: int


class Today(msgspec.Struct, frozen=True, kw_only=True):
    """The answer: ``lines`` are the day's prints and, below them, the earlier ones that wait for a judgement, then those
    that were judged wet and may be seen ``again``, for they are dry.

    ``day`` is the day shown: today, or where nothing was printed today the last day on which something was.
    """

    today: date
    day: date | None
    printer: str = ""
    loaded: Black | None = None
    roll: RollNow | None = None
    waiting: int = 0
    again: int = 0
    levels: tuple[InkLevel, ...] = ()
    lines: tuple[Line, ...] = ()
    steps_left: tuple[str, ...] = ()
    promises: tuple[Promise, ...] = ()
    undecided: int = 0


def answer(log: Snapshot, now: datetime | None = None) -> Today:
    """Today, as the place shows it; with the time of day also what was judged wet and is dry by ``now``."""
    printer = printer_in_use(log)
    last = log.newest_print()
    day = last.at.date() if last is not None else None
    lines = log.ask(history.of_days, day, day) if day is not None else []
    shown = {line.id for line in lines}
    again = {line.id: line for line in log.ask(history.seen_wet, now, AGAIN_SHOWN)} if now is not None else {}
    waiting = [line for line in log.ask(history.waiting, WAITING_SHOWN) if line.purpose != "strip" and line.id not in shown]
    wet = [line for line in again.values() if line.id not in shown]
    return Today(
        today=log.day,
        day=day,
        printer=printer.name if printer is not None else "",
        loaded=loaded_black(log, printer) if printer is not None else None,
        roll=_roll(log, last),
        waiting=log.ask(lately.waiting_count),
        levels=levels_now(log, printer) if printer is not None else (),
        again=len(again),
        lines=(*(again.get(line.id, line) for line in lines), *waiting, *wet),
        steps_left=steps_left(log),
        promises=_promises(log),
        undecided=log.ask(conflicts.count),
    )


def sentences(now: Today) -> tuple[str, ...]:
    """How things stand, in plain words: the printer and its roll; what waits; what was promised; what runs out."""
    stands = (_printer_words(now), _waiting_words(now), _again_words(now), _promise_words(now))
    return tuple(words for words in (*stands, *_low_words(now), _undecided_words(now)) if words)


def _roll(log: Snapshot, last: Print | None) -> RollNow | None:
    stock = stock_in_use(log)
    paper = log.get(Paper, stock.paper) if stock is not None else None
    if stock is None or paper is None:
        return None
    left, sheets = roll_left_mm(log, stock), sheets_left(log, stock)
    across = roll_width_mm(stock, paper)
    prints = sheets
    if left is not None and across is not None and last is not None:
        used = length_used_mm(last.width_mm, last.height_mm, last.border_mm or 0, across)
        prints = max(0, int(left // used))
    size = size_text(last.width_mm, last.height_mm) if last is not None else ""
    return RollNow(paper=paper.name, left_mm=left, sheets=sheets, prints=prints, size=size)


def _printer_words(now: Today) -> str:
    if now.loaded is None:
        return ""
    loaded = f"{now.loaded.capitalize()} black is loaded."
    roll = now.roll
    if roll is None or (roll.left_mm is None and roll.sheets is None):
        return loaded
    if roll.sheets is not None:
        return f"{loaded} {max(0, roll.sheets)} sheets of {plain(roll.paper)} are left."
    left = max(0.0, roll.left_mm or 0.0)
    makes = f", {_about(roll.prints)} at {roll.size}" if roll.prints is not None and roll.size else ""
    return f"{loaded} {length_text(left)} of the {plain(roll.paper)} roll are left{makes}."


def _about(prints: int) -> str:
    return {0: "not one print", 1: "about one print"}.get(prints, f"about {prints} prints")


def _waiting_words(now: Today) -> str:
    if not now.waiting:
        return ""
    return "One print waits for its judgement." if now.waiting == 1 else f"{now.waiting:,} prints wait for their judgement."


def _again_words(now: Today) -> str:
    if not now.again:
        return ""
    return f"{'One that was' if now.again == 1 else f'{now.again:,} that were'} judged wet may be seen again, dry."


def _undecided_words(now: Today) -> str:
    if not now.undecided:
        return ""
    things = "One thing was" if now.undecided == 1 else f"{now.undecided:,} things were"
    return f"{things} changed differently in two logbooks: = decides."


def _promises(log: Snapshot) -> tuple[Promise, ...]:
    """The orders that still ask for prints and were promised, the earliest first."""
    return tuple(
        Promise(asked.order.title, asked.order.promised, asked.left)
        for asked in orders_left(log)
        if asked.order.promised is not None
    )


def _promise_words(now: Today) -> str:
    late = [promise for promise in now.promises if promise.promised < now.today]
    if len(late) > 1:
        return f"{len(late)} orders are late, “{plain(late[0].title)}” the longest."
    if not now.promises or (now.promises[0].promised - now.today).days > SOON_DAYS:
        return ""
    first = now.promises[0]
    prints = "one print" if first.left == 1 else f"{first.left} prints"
    if late:
        return f"“{plain(first.title)}” is late: {prints}, promised for {date_text(first.promised, now.today)}."
    day = "today" if first.promised == now.today else f"{first.promised:%A} {first.promised.day} {first.promised:%B}"
    return f"Promised next: “{plain(first.title)}”, {prints}, {day}."


def _low_words(now: Today) -> tuple[str, ...]:
    low = [level for level in now.levels if level.low]
    if not low:
        return ()
    named = ", ".join(f"{ink_text(level.ink)} at {level.percent:g} %" for level in low)
    return (f"Nearly empty when last read: {named}.",)
