"""The gauge readings behind a number: what each saw go, and what the log says was drawn."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.draws import Kind
from logbook.records import Gauge, Printer
from logbook.reports.ink.use import ink_use_of
from logbook.snapshot import Snapshot
from logbook.snapshot.printer import printer_meant

__all__ = ["Asked", "Seen", "readings_behind"]


@dataclass(frozen=True)
class Asked:
    """Which readings are meant: of an ink, of a cartridge, of a month ("2026-11") or around a changeover; ``words`` say it."""

    words: str
    ink: str | None = None
    cartridge: str | None = None
    month: str | None = None
    exchange: str | None = None


@dataclass(frozen=True)
class Seen:
    """One level of one ink: what had gone since the level before it, and what of that is accounted for, by use.

    ``alone_ml`` is what the printer drew by itself and what unlogged sheets took.

    ``before`` is that level, None for a ``start``: a cartridge put in, with what was in it.
    """

    at: dt.datetime
    ink: str
    percent: float
    before: float | None
    fell_ml: float
    prints_ml: float
    changeovers_ml: float
    cleanings_ml: float
    alone_ml: float

    @property
    def start(self) -> bool:
        """Whether this is the start of a cartridge."""
        return self.before is None

    @property
    def left_over_ml(self) -> float:
        """What went beyond what the log accounts for."""
        return self.fell_ml - self.prints_ml - self.changeovers_ml - self.cleanings_ml - self.alone_ml


def readings_behind(log: Snapshot, asked: Asked) -> list[Seen]:
    """The levels asked for, newest first, inks in the printer's order."""
    printer = printer_meant(log, None)
    if printer is None:
        return []
    span = _span(log, printer, asked)
    seen = [
        one
        for ink in printer.ink_names
        if asked.ink in (None, ink)
        for one in _of_ink(log, printer, ink, asked.cartridge)
        if (asked.month is None or f"{one.at:%Y-%m}" == asked.month) and (span is None or span[0] < one.at <= span[1])
    ]
    return sorted(seen, key=lambda one: one.at, reverse=True)


def _of_ink(log: Snapshot, printer: Printer, ink: str, cartridge: str | None) -> list[Seen]:
    fit = ink_use_of(log, printer).fits[ink]
    drawn_ml, kinds = fit.drawn_ml, fit.draws.kind
    zones = {gauge.at.timestamp(): gauge for gauge in log.of_printer(Gauge, printer.id)}
    found = []
    for use in fit.uses:
        if cartridge not in (None, use.cartridge):
            continue
        for n, at in enumerate(use.at):
            gauge = zones.get(float(at))
            when = gauge.at if gauge is not None else dt.datetime.fromtimestamp(float(at)).astimezone()
            within = slice(use.upto[n - 1], use.upto[n]) if n else slice(0, 0)
            drawn = np.bincount(kinds[within], drawn_ml[within], minlength=len(Kind))
            parts = drawn[Kind.PRINTS], drawn[Kind.CHANGEOVERS], drawn[Kind.CLEANINGS], drawn[Kind.IDLE] + drawn[Kind.UNLOGGED]
            fell = float(use.fell_ml[n - 1]) if n else 0.0
            before = float(use.percent[n - 1]) if n else None
            found.append(Seen(when, ink, float(use.percent[n]), before, fell, *map(float, parts)))
    return found


def _span(log: Snapshot, printer: Printer, asked: Asked) -> tuple[dt.datetime, dt.datetime] | None:
    """The time around a changeover: from its reading before to that after, else the nearest rounds on either side."""
    from logbook.records import Changeover

    if asked.exchange is None:
        return None
    one = log.get(Changeover, asked.exchange)
    if one is None:
        return None
    gauges = log.of_printer(Gauge, printer.id)
    by_id = {gauge.id: gauge.at for gauge in gauges}
    earlier = by_id.get(one.before or "") or max((gauge.at for gauge in gauges if gauge.at <= one.at), default=one.at)
    later = by_id.get(one.after or "") or min((gauge.at for gauge in gauges if gauge.at > one.at), default=one.at)
    return earlier, later
