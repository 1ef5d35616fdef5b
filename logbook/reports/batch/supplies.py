"""Paper and ink for the plan: what there is, what each print and each changeover takes, and what will not last."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import msgspec
import numpy as np

from logbook.analysis.batch.entries import Entry
from logbook.analysis.batch.promises import Supply
from logbook.analysis.ink.forecast import level_now
from logbook.analysis.ink.log import black_of
from logbook.analysis.month import paper_use
from logbook.records import Paper, Printer
from logbook.records.fields import BLACKS
from logbook.records.wording import ink_text
from logbook.reports.batch.basis import prints_of_a_year
from logbook.reports.batch.model import PerBlackRate, Short
from logbook.reports.ink import use as ink_use
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import OrderLeft
from logbook.snapshot.stock import open_stock, roll_left_mm, roll_width_mm, sheets_left
from logbook.store import columns

__all__ = ["Supplies", "supplies_of"]


class Supplies(msgspec.Struct, frozen=True):
    """The supplies whose state the log tells, with what they are, their units and what they are called; inks first."""

    kinds: tuple[tuple[str, str, str], ...]
    known: tuple[Supply, ...]

    def short(self, plan: Sequence[Entry], orders: Sequence[OrderLeft], each: PerBlackRate) -> tuple[Short, ...]:
        """What will not last the plan, with the attempts its prints take and its changeovers."""
        prints = {one.order.id: one.left * each.of(one.black) for one in orders}
        found = []
        for (what, unit, called), supply in zip(self.kinds, self.known, strict=True):
            needed, missed = 0.0, list[str]()
            for entry in plan:
                needed += supply.per_exchange.get(entry.black, 0.0) * entry.changeover
                for name in entry.orders:
                    takes = supply.per_print.get(name, 0.0) * prints.get(name, 0.0)
                    needed += takes
                    missed += [name] if takes and needed > supply.left else []
            if missed:
                fields = {
                    "what": what,
                    "unit": unit,
                    "called": called,
                    "name": supply.name,
                    "needed": needed,
                    "left": supply.left,
                }
                found.append(msgspec.convert({**fields, "orders": tuple(missed)}, Short))
        return tuple(found)


def supplies_of(log: Snapshot, printer: Printer | None, orders: Sequence[OrderLeft]) -> Supplies:
    """The printer's inks, and the open stock of the papers that the orders ask for."""
    if printer is None or not orders:
        return Supplies((), ())
    inks = _inks(log, printer, orders)
    prints = prints_of_a_year(log, printer.id)
    papers = [known for paper in log.all(Paper) if (known := _paper(log, paper, _asking(paper, prints, log, orders), prints))]
    names = {paper.id: paper.name for paper in log.all(Paper)}
    kinds = [("ink", "ml", ink_text(ink.name).capitalize()) for ink in inks]
    kinds += [("stock", unit, names[stock.name]) for unit, stock in papers]
    return Supplies(tuple(kinds), (*inks, *(supply for _, supply in papers)))


def _inks(log: Snapshot, printer: Printer, orders: Sequence[OrderLeft]) -> list[Supply]:
    use = ink_use.ink_use_of(log, printer)
    now = dt.datetime.combine(log.day, dt.time.max).astimezone().timestamp()
    sizes = ink_use.Sizes(prints_of_a_year(log, printer.id), log.all(Paper))
    found = []
    for fit in use.fits.values():
        level, own = level_now(use.log, fit, now), black_of(fit.draws.ink)
        if level is not None:
            drawing = [one for one in orders if own in (None, one.black)]
            takes = {one.order.id: sizes.of(one.order, one.black) * fit.area_rate for one in drawing}
            flushed = {black: fit.rate((other, black)) for black, other in (BLACKS, BLACKS[::-1])}
            found.append(Supply(fit.draws.ink, level.ml, takes, flushed))
    return found


def _asking(paper: Paper, prints: columns.Prints, log: Snapshot, orders: Sequence[OrderLeft]) -> list[OrderLeft]:
    """The orders on a paper; one that names none is printed on the paper last used with its black."""
    blacks = {known.id: known.black for known in log.all(Paper)}
    last = {blacks[name]: name for name in prints.paper if name in blacks}
    return [one for one in orders if paper.id == (one.order.paper or last.get(one.black))]


def _paper(log: Snapshot, paper: Paper, orders: list[OrderLeft], prints: columns.Prints) -> tuple[str, Supply] | None:
    """What is open of a paper, in mm of roll or in sheets; None where the log does not tell, or nobody asks for it."""
    stock = open_stock(log, paper.id)
    if paper.form == "sheet":
        left: list[float] = [box for one in stock if (box := sheets_left(log, one)) is not None]
        takes = {one.order.id: 1.0 for one in orders}
    else:
        left = [max(0, roll) for one in stock if (roll := roll_left_mm(log, one)) is not None]
        width = next((roll_width_mm(one, paper) for one in stock), paper.width_mm)
        takes = {one.order.id: _length_mm(prints, paper, one, width) for one in orders}
    if not left or not takes or any(np.isnan(length) for length in takes.values()):
        return None
    return "sheets" if paper.form == "sheet" else "mm", Supply(paper.id, float(sum(left)), takes, {})


def _length_mm(prints: columns.Prints, paper: Paper, one: OrderLeft, width_mm: float | None) -> float:
    """Roll that a print of the order takes: as its own prints did, else as the prints on this paper do on average."""
    if width_mm is None:
        return float("nan")
    own = (prints.order == one.order.id) & (prints.purpose != "strip")
    like = own if own.any() else (prints.paper == paper.id) & (prints.purpose == "final")
    if not like.any():
        return float("nan")
    width, height, border = prints.width_mm[like], prints.height_mm[like], np.nan_to_num(prints.border_mm[like])
    return float(paper_use.from_roll(width, height, border, width_mm).length_mm.mean())
