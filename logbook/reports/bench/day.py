"""One day, line by line: everything that was logged for it, in the sequence of its times."""

from __future__ import annotations

from datetime import date, datetime

import msgspec

from logbook.records import (
    Cartridge,
    Changeover,
    Cleaning,
    Gauge,
    Judgement,
    Order,
    Paper,
    Picture,
    Print,
    Record,
    Stock,
    kind_of,
)
from logbook.records.darkness import thirds_in_words
from logbook.records.text import plain
from logbook.records.units import length_text, number_text, size_text
from logbook.records.wording import counted, date_text, ink_text, print_number
from logbook.snapshot import Snapshot
from logbook.snapshot.printer import same_way_twice
from logbook.store import reading

KINDS_OF_A_DAY: tuple[type[Record], ...] = (Order, Stock, Cartridge, Changeover, Gauge, Cleaning, Print, Judgement)


class DayLine(msgspec.Struct, frozen=True, kw_only=True):
    """One record of a day; an order has no time of day. ``print`` is the print that it is, or that it judges."""

    kind: str
    id: str
    at: datetime | None
    what: str
    name: str
    about: str = ""
    print: str | None = None


def lines_of(log: Snapshot, day: date) -> tuple[DayLine, ...]:
    """What was logged for ``day`` (as written in its times), the earliest first, orders before all."""
    records = [record for kind in KINDS_OF_A_DAY for record in log.ask(reading.of_day, kind, day)]
    lines = [_line(log, record) for record in records]
    return tuple(sorted(lines, key=lambda line: line.at.timestamp() if line.at is not None else float("-inf")))


def _line(log: Snapshot, record: Record) -> DayLine:
    kind, id = kind_of(record), record.id
    match record:
        case Order():
            promised = f", promised for {date_text(record.promised, log.day)}" if record.promised is not None else ""
            about = counted(record.prints, "print") + promised
            return DayLine(kind=kind, id=id, at=None, what="order", name=plain(record.title), about=about)
        case Stock():
            much = counted(record.sheets, "sheet") if record.sheets is not None else _length(record.length_mm)
            what = "box" if record.sheets is not None else "roll"
            return DayLine(kind=kind, id=id, at=record.opened, what=what, name=_paper(log, record.paper), about=much)
        case Cartridge():
            part_used = f", at {number_text(record.start_percent)} %" if record.start_percent < 100 else ""
            about = f"{number_text(record.nominal_ml)} ml{part_used}"
            return DayLine(kind=kind, id=id, at=record.installed, what="cartridge", name=ink_text(record.ink), about=about)
        case Changeover():
            took = f"{number_text(record.minutes)} min" if record.minutes is not None else ""
            about = _same_way(log, record) or took
            name = f"{record.from_black} to {record.to_black}"
            return DayLine(kind=kind, id=id, at=record.at, what="changeover", name=name, about=about)
        case Gauge():
            name = counted(len(record.levels), "level")
            return DayLine(kind=kind, id=id, at=record.at, what="gauge", name=name, about=_belongs_to(log, record))
        case Cleaning():
            clear = "the nozzle check is not clear yet" if record.clear_after is False else ""
            return DayLine(kind=kind, id=id, at=record.at, what="cleaning", name=record.strength or "", about=clear)
        case Print():
            about = f"{_paper(log, record.paper)}, {size_text(record.width_mm, record.height_mm)}"
            what = f"print {_number(log, id)}"
            return DayLine(kind=kind, id=id, at=record.at, what=what, name=_picture(log, record), about=about, print=id)
        case Judgement():
            seen = log.get(Print, record.print)
            dark = thirds_in_words(record.darkness) if record.darkness is not None else None
            about = ", ".join(part for part in (record.verdict, dark) if part) or plain(record.note or "")
            what, name = f"judged {_number(log, record.print)}", _picture(log, seen) if seen is not None else ""
            return DayLine(kind=kind, id=id, at=record.at, what=what, name=name, about=about, print=record.print)
    raise TypeError(f"a {kind} belongs to no day")


def _belongs_to(log: Snapshot, gauge: Gauge) -> str:
    """Which changeover levels were read with."""
    for change in log.of_printer(Changeover, gauge.printer):
        if gauge.id in (change.before, change.after):
            return f"{'before' if gauge.id == change.before else 'after'} the changeover"
    return ""


def _same_way(log: Snapshot, change: Changeover) -> str:
    """Said where the changeover before went the same way."""
    before = next((one for one, two in same_way_twice(log.of_printer(Changeover, change.printer)) if two.id == change.id), None)
    return "" if before is None else f"as on {date_text(before.at.date(), log.day)}: one is missing"


def _number(log: Snapshot, print_id: str) -> str:
    return print_number(log.ask(reading.number_of, print_id) or 0)


def _paper(log: Snapshot, id: str) -> str:
    paper = log.get(Paper, id)
    return plain(paper.name) if paper is not None else ""


def _picture(log: Snapshot, printed: Print) -> str:
    picture = log.get(Picture, printed.picture)
    return plain(picture.title) if picture is not None else ""


def _length(length_mm: float | None) -> str:
    return length_text(length_mm) if length_mm is not None else ""
