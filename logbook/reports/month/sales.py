"""What was sold in a month: the orders done in it, with the prints they took along."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Order, Paper
from logbook.reports.month.model import Sale, SoldPrint
from logbook.reports.month.money import month_of
from logbook.snapshot import Snapshot
from logbook.store import columns

__all__ = ["sales_of"]


def sales_of(
    log: Snapshot,
    prints: columns.Prints,
    papers: Mapping[str, Paper],
    orders: Iterable[Order],
    month: int,
    chosen: NDArray[np.bool_] | None = None,
) -> tuple[Sale, ...]:
    """The orders done in the month, in the sequence they were done; with ``chosen``, those that took such a print."""
    done = [order for order in orders if order.done is not None and month_of(order.done) == month]
    kept = prints.verdict == "keep"
    sales = []
    for order in sorted(done, key=lambda order: (str(order.done), order.id)):
        mine = kept & (prints.order == order.id)
        if chosen is None or np.any(mine & chosen):
            rows = [int(row) for row in np.flatnonzero(mine)]
            sales.append(_sale(order, tuple(_sold(log, prints, papers, row) for row in rows)))
    return tuple(sales)


def _sale(order: Order, prints: tuple[SoldPrint, ...]) -> Sale:
    assert order.done is not None
    return Sale(order=order.id, title=order.title, client=order.client, done=order.done, price=order.price, prints=prints)


def _sold(log: Snapshot, prints: columns.Prints, papers: Mapping[str, Paper], row: int) -> SoldPrint:
    number, size = float(prints.edition_number[row]), float(prints.edition_size[row])
    return SoldPrint(
        print=str(prints.id[row]),
        number=int(prints.number[row]),
        title=log.pictures[prints.picture[row]].title,
        paper=papers[prints.paper[row]].name,
        edition_number=None if np.isnan(number) else int(number),
        edition_size=None if np.isnan(size) else int(size),
        width_mm=float(prints.width_mm[row]),
        height_mm=float(prints.height_mm[row]),
    )
