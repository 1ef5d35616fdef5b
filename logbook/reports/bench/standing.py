"""How the printer stands: what the line shows that never leaves the screen."""

from __future__ import annotations

from datetime import date

import msgspec

from logbook.actions import facts, orders
from logbook.records import Order, Paper, Printer
from logbook.records.fields import Black
from logbook.store import Store, reading


class Waiting(msgspec.Struct, frozen=True):
    """Prints of open orders that are still to be made, per black."""

    matte: int = 0
    photo: int = 0


class Standing(msgspec.Struct, frozen=True, kw_only=True):
    """The printer now. Every part may be unknown; ``verdict`` is the batch answer in one line, ``due`` where it says so."""

    loaded: Black | None = None
    printer: str = ""
    lowest_ink: str | None = None
    lowest_percent: float | None = None
    roll_left_mm: float | None = None
    waiting: Waiting = Waiting()
    verdict: str = ""
    due: bool = False


def answer(store: Store, *, today: date, verdict: str = "", due: bool = False) -> Standing:
    """How the printer in use stands, with the ``verdict`` known so far; ``with_verdict`` takes longer."""
    printer = facts.printer_in_use(store)
    lowest = _lowest(store, printer)
    stock = facts.stock_in_use(store)
    return Standing(
        loaded=facts.loaded_black(store, printer) if printer is not None else None,
        printer=printer.name if printer is not None else "",
        lowest_ink=lowest.ink if lowest is not None else None,
        lowest_percent=lowest.percent if lowest is not None else None,
        roll_left_mm=facts.roll_left_mm(store, stock) if stock is not None else None,
        waiting=waiting(store),
        verdict=verdict,
        due=due,
    )


def with_verdict(standing: Standing, store: Store, *, today: date) -> Standing:
    """The same with the batch answer's verdict of ``today``."""
    from logbook.reports.batch import answer as batch

    line = batch.verdict_line(store, today)
    return msgspec.structs.replace(standing, verdict=line.text, due=line.due)


def waiting(store: Store) -> Waiting:
    """What is left of the open orders, in prints."""
    left = {"matte": 0, "photo": 0}
    for order in orders.open_orders(store):
        black = _black(store, order)
        if black is not None:
            left[black] += orders.left_of(store, order)
    return Waiting(**left)


def _black(store: Store, order: Order) -> Black | None:
    """The black an order asks for: its own, else its paper's."""
    if order.black is not None or order.paper is None:
        return order.black
    paper = reading.get(store, Paper, order.paper)
    return paper.black if paper is not None else None


def _lowest(store: Store, printer: Printer | None) -> facts.InkLevel | None:
    """The ink nearest its end, of those that are in the printer's lines."""
    if printer is None:
        return None
    known = [level for level in facts.levels_now(store, printer) if level.loaded and level.percent is not None]
    return min(known, key=lambda level: level.percent or 0.0, default=None)
