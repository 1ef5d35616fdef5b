"""How the printer stands: which one is in use, the black that is loaded, the last level of every ink."""

from collections.abc import Sequence
from datetime import datetime
from itertools import pairwise

import msgspec

from logbook.records import Bench, Cartridge, Changeover, Gauge, Paper, Print, Printer
from logbook.records.fields import BLACK_INK, Black
from logbook.snapshot.snapshot import Snapshot

LOW_PERCENT = 10.0  # common practice, no source: a cartridge is ordered well before it is empty


class InkLevel(msgspec.Struct, frozen=True, kw_only=True):
    """The last known level of an ink; ``percent`` is None where nothing was ever read or installed."""

    ink: str
    percent: float | None
    at: datetime | None
    loaded: bool

    @property
    def low(self) -> bool:
        """Whether it is nearly empty, and in use."""
        return self.loaded and self.percent is not None and self.percent <= LOW_PERCENT


def printer_in_use(log: Snapshot) -> Printer | None:
    """The printer of the last print. Where nothing was printed yet, the one that has bench times, else the one described last.

    A second printer is in use from its first print on: until then forms, places and answers all speak of the first.
    """
    last: Print | Bench | None = log.newest_print() or next(reversed(log.all(Bench)), None)
    return log.get(Printer, last.printer) if last is not None else next(reversed(log.all(Printer)), None)


def printer_meant(log: Snapshot, printer: str | None) -> Printer | None:
    """The printer of that id; without one, the printer in use."""
    return printer_in_use(log) if printer is None else log.get(Printer, printer)


def loaded_black(log: Snapshot, printer: Printer, at: datetime | None = None) -> Black:
    """The black in the slot now, or as it was at ``at``.

    The last changeover's, else the printer's black at the start, else that of the last print's paper, else matte.
    """
    changeovers = [changeover for changeover in log.of_printer(Changeover, printer.id) if at is None or changeover.at <= at]
    if changeovers:
        return changeovers[-1].to_black
    if printer.black_at_start is not None:
        return printer.black_at_start
    last = log.newest_print(printer.id)
    paper = log.get(Paper, last.paper) if last is not None else None
    return paper.black if paper is not None else "matte"


def same_way_twice(changes: Sequence[Changeover]) -> list[tuple[Changeover, Changeover]]:
    """Pairs of successive changeovers, given in time order, that go the same way: between the two another is missing."""
    return [(one, two) for one, two in pairwise(changes) if one.to_black == two.to_black]


def is_loaded(printer: Printer, ink: str, loaded: Black) -> bool:
    """Whether an ink is in the printer's lines: every one is, but for the black whose slot the other has."""
    return not printer.shared_black_slot or ink not in BLACK_INK.values() or ink == BLACK_INK[loaded]


def levels_now(log: Snapshot, printer: Printer) -> tuple[InkLevel, ...]:
    """The last known level of every ink in the order of the display; a black that is not loaded keeps its last."""
    loaded = loaded_black(log, printer)
    gauges = log.of_printer(Gauge, printer.id)
    cartridges = log.of_printer(Cartridge, printer.id)
    return tuple(_level(ink, gauges, cartridges, is_loaded(printer, ink, loaded)) for ink in printer.ink_names)


def _level(ink: str, gauges: list[Gauge], cartridges: list[Cartridge], loaded: bool) -> InkLevel:
    cartridge = next((cartridge for cartridge in reversed(cartridges) if cartridge.ink == ink), None)
    gauge = next((gauge for gauge in reversed(gauges) if ink in gauge.levels), None)
    if gauge is not None and (cartridge is None or gauge.at >= cartridge.installed):
        return InkLevel(ink=ink, percent=gauge.levels[ink], at=gauge.at, loaded=loaded)
    if cartridge is not None:
        return InkLevel(ink=ink, percent=cartridge.start_percent, at=cartridge.installed, loaded=loaded)
    return InkLevel(ink=ink, percent=None, at=None, loaded=loaded)


def cartridge_in(log: Snapshot, printer: str, ink: str, at: datetime | None = None) -> Cartridge | None:
    """The cartridge of an ink that is in the printer now, or was at ``at``."""
    own = [cartridge for cartridge in log.of_printer(Cartridge, printer) if cartridge.ink == ink]
    in_then = [cartridge for cartridge in own if (cartridge.removed is None if at is None else _was_in(cartridge, at))]
    return in_then[-1] if in_then else None


def readings_of(
    log: Snapshot, printer: str, ink: str, cartridge: Cartridge | None, *, without: str | None = None
) -> list[tuple[datetime, float]]:
    """The levels read of an ink, in time order; only those on ``cartridge`` where it is given, ``without`` one round."""
    return [
        (gauge.at, gauge.levels[ink])
        for gauge in log.of_printer(Gauge, printer)
        if gauge.id != without and ink in gauge.levels and (cartridge is None or _was_in(cartridge, gauge.at))
    ]


def _was_in(cartridge: Cartridge, at: datetime) -> bool:
    return cartridge.installed <= at and (cartridge.removed is None or at < cartridge.removed)
