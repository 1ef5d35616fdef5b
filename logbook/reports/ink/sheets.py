"""Sheets that were made and never logged, as finished rolls and boxes tell them, or the printer's own count."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator
from itertools import pairwise

import numpy as np

from logbook.analysis.ink.unlogged import Batch, Unlogged, share_unlogged
from logbook.analysis.month.paper_use import from_roll
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Paper, Stock
from logbook.snapshot import Snapshot
from logbook.snapshot.sheet_counts import sheet_counts
from logbook.snapshot.stock import roll_width_mm
from logbook.store.columns import Prints

__all__ = ["unlogged_sheets"]


def unlogged_sheets(log: Snapshot, printer: str, until: dt.date | None = None) -> Unlogged | None:
    """What the rolls and boxes finished by ``until`` say, or the printer's own count, whichever saw more sheets.

    None where neither says anything.
    """
    finished = [one for one in log.all(Stock) if one.closed is not None and (until is None or one.closed.date() <= until)]
    told = (
        share_unlogged(list(_batches(log, finished)) if finished else [], "paper"),
        share_unlogged(list(_counted(log, printer, until)), "counter"),
    )
    return max((one for one in told if one is not None), key=lambda one: one.made, default=None)


def _counted(log: Snapshot, printer: str, until: dt.date | None) -> Iterator[Batch]:
    """What was made and what was logged from each of the printer's counts to the next."""
    counts = [(at, sheets) for at, sheets in sheet_counts(log, printer) if until is None or at.date() <= until]
    if len(counts) < 2:
        return
    at = log.prints(printer=printer).at
    for (before, first), (after, then) in pairwise(counts):
        logged = int(np.sum((at > before.timestamp()) & (at <= after.timestamp())))
        yield Batch(float(then - first), float(logged))


def _batches(log: Snapshot, finished: Iterable[Stock]) -> Iterator[Batch]:
    prints = log.prints()
    papers = {paper.id: paper for paper in log.all(Paper)}
    for stock in finished:
        rows = _rows(log, prints, stock)
        width = roll_width_mm(stock, papers[stock.paper])
        if rows is None:
            continue
        if stock.sheets is not None:
            yield Batch(float(stock.sheets), float(len(rows)))
        elif stock.length_mm is not None and width is not None:
            used = from_roll(prints.width_mm[rows], prints.height_mm[rows], prints.border_mm[rows], width).length_mm
            # What is left of a roll at its end is no sheet.
            missing = max(0.0, float((stock.length_mm - np.sum(used)) // np.mean(used)))
            yield Batch(float(len(rows) + missing), float(len(rows)))


def _rows(log: Snapshot, prints: Prints, stock: Stock) -> NDArray[np.int64] | None:
    """The prints of a roll or box: those that name it, and those of its paper in its time that name none.

    None where none names it, for then nobody kept count, and where one that names none may be another's.
    """
    assert stock.closed is not None
    named = prints.stock == stock.id
    if not np.any(named):
        return None
    opened, closed = stock.opened.timestamp(), stock.closed.timestamp()
    unnamed = (
        (prints.paper == stock.paper)
        & np.array([one is None for one in prints.stock], dtype=bool)
        & (prints.at >= opened)
        & (prints.at <= closed)
    )
    if np.any(unnamed) and any(_overlap(stock, other) for other in log.all(Stock)):
        return None
    return np.flatnonzero(named | unnamed)


def _overlap(stock: Stock, other: Stock) -> bool:
    """Whether another roll or box of the same paper was open at the same time."""
    assert stock.closed is not None
    if other.id == stock.id or other.paper != stock.paper or other.opened >= stock.closed:
        return False
    return other.closed is None or other.closed > stock.opened
