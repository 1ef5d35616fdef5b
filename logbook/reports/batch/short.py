"""What is short: inks and papers' stock that will not last the plan."""

from __future__ import annotations

import numpy as np

from logbook.analysis.month import paper_use
from logbook.records import Paper
from logbook.reports.batch.basis import prints_of_a_year
from logbook.reports.batch.model import PlanEntry, Short
from logbook.reports.ink import use as ink_use
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import OrderLeft
from logbook.snapshot.stock import open_stock, roll_left_mm, roll_width_mm, sheets_left
from logbook.store import columns

__all__ = ["short_of"]


def short_of(log: Snapshot, printer: str | None, known: list[OrderLeft], plan: tuple[PlanEntry, ...]) -> tuple[Short, ...]:
    """Inks in the printer's order, then papers; nothing where the log does not tell."""
    planned = [name for entry in plan for name in entry.orders]
    orders = {one.order.id: one for one in known}
    wanted = [orders[name] for name in planned if name in orders]
    if not wanted:
        return ()
    inks = _inks(log, printer, wanted) if printer is not None else []
    return (*inks, *_stock(log, printer, wanted))


def _inks(log: Snapshot, printer: str, wanted: list[OrderLeft]) -> list[Short]:
    names = {one.order.id for one in wanted}
    found = []
    for ink in ink_use.forecast(log, printer):
        missed = tuple(name for name in ink.missed if name in names)
        if missed:
            found.append(Short(what="ink", name=ink.ink, needed=None, left=ink.level_ml, unit="ml", orders=missed))
    return found


def _stock(log: Snapshot, printer: str | None, wanted: list[OrderLeft]) -> list[Short]:
    """Papers of which the open rolls and boxes hold less than the plan takes."""
    prints = prints_of_a_year(log, printer)
    papers = {paper.id: paper for paper in log.all(Paper)}
    per_paper: dict[str, list[OrderLeft]] = {}
    for one in wanted:
        paper = one.order.paper or _usual_paper(prints, papers, one)
        if paper in papers:
            per_paper.setdefault(paper, []).append(one)
    shorts = (_short_paper(log, papers[paper], orders, prints) for paper, orders in per_paper.items())
    return [short for short in shorts if short is not None]


def _usual_paper(prints: columns.Prints, papers: dict[str, Paper], one: OrderLeft) -> str:
    """The paper last printed on with this black: an order for a black names none."""
    for paper in prints.paper[::-1]:
        if paper in papers and papers[paper].black == one.black:
            return str(paper)
    return ""


def _short_paper(log: Snapshot, paper: Paper, orders: list[OrderLeft], prints: columns.Prints) -> Short | None:
    stock = open_stock(log, paper.id)
    if paper.form == "sheet":
        boxes = [sheets_left(log, box) for box in stock]
        left = float(sum(box for box in boxes if box is not None))
        takes = [float(one.left) for one in orders]
        known = any(box is not None for box in boxes)
    else:
        rolls = [roll_left_mm(log, roll) for roll in stock]
        left = sum((max(0.0, roll) for roll in rolls if roll is not None), 0.0)
        width = next((roll_width_mm(roll, paper) for roll in stock), paper.width_mm)
        lengths = [_length_mm(prints, paper, one, width) for one in orders]
        takes = [one.left * length for one, length in zip(orders, lengths, strict=True)]
        known = any(roll is not None for roll in rolls) and not np.isnan(takes).any()
    if not known or sum(takes) <= left:
        return None
    reached = np.cumsum(takes) <= left
    missed = tuple(one.order.id for one, there in zip(orders, reached, strict=True) if not there)
    return Short(
        what="stock",
        name=paper.id,
        needed=float(sum(takes)),
        left=float(left),
        unit="sheets" if paper.form == "sheet" else "mm",
        orders=missed,
    )


def _length_mm(prints: columns.Prints, paper: Paper, one: OrderLeft, width_mm: float | None) -> float:
    """Roll that a print of the order takes: as its own prints did, else as the prints on this paper do on average."""
    if width_mm is None:
        return float("nan")
    own = prints.where((prints.order == one.order.id) & (prints.purpose != "strip"))
    like = own if len(own) else prints.where((prints.paper == paper.id) & (prints.purpose == "final"))
    if not len(like):
        return float("nan")
    border = np.nan_to_num(like.border_mm)
    return float(paper_use.from_roll(like.width_mm, like.height_mm, border, width_mm).length_mm.mean())
