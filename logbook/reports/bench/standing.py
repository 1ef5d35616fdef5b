"""How the printer stands: what the line shows that never leaves the screen."""

from __future__ import annotations

from typing import TYPE_CHECKING

import msgspec

from logbook.records import Printer
from logbook.records.fields import Black
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import Waiting, orders_left, waiting
from logbook.snapshot.printer import InkLevel, levels_now, loaded_black, printer_in_use
from logbook.snapshot.stock import roll_left_mm, stock_in_use

if TYPE_CHECKING:
    from logbook.reports.batch.model import BatchDue


class Standing(msgspec.Struct, frozen=True, kw_only=True):
    """The printer now. Every part may be unknown; ``batch`` is when the next one is due."""

    loaded: Black | None = None
    printer: str = ""
    lowest_ink: str | None = None
    lowest_percent: float | None = None
    low: bool = False
    roll_left_mm: float | None = None
    waiting: Waiting = Waiting()
    batch: BatchDue | None = None


def answer(log: Snapshot, *, batch: BatchDue | None = None) -> Standing:
    """How the printer in use stands, with what was known last of the next ``batch``; ``with_batch`` takes longer."""
    printer = printer_in_use(log)
    lowest = _lowest(log, printer)
    stock = stock_in_use(log)
    return Standing(
        loaded=loaded_black(log, printer) if printer is not None else None,
        printer=printer.name if printer is not None else "",
        lowest_ink=lowest.ink if lowest is not None else None,
        lowest_percent=lowest.percent if lowest is not None else None,
        low=lowest is not None and lowest.low,
        roll_left_mm=roll_left_mm(log, stock) if stock is not None else None,
        waiting=waiting(orders_left(log)),
        batch=batch,
    )


def with_batch(standing: Standing, log: Snapshot) -> Standing:
    """The same with the day on which the next batch is due."""
    from logbook.reports.batch.answer import batch_due

    return msgspec.structs.replace(standing, batch=batch_due(log))


def _lowest(log: Snapshot, printer: Printer | None) -> InkLevel | None:
    """The ink nearest its end, of those that are in the printer's lines."""
    if printer is None:
        return None
    known = [level for level in levels_now(log, printer) if level.loaded and level.percent is not None]
    return min(known, key=lambda level: level.percent or 0.0, default=None)
