"""Money of the months: changeovers and cleanings by what they waste, income by the orders done."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.month.figures import known, known_sum, month_number
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Changeover, Cleaning, Order
from logbook.reports.month.ink import Waste
from logbook.reports.month.model import Upkeep
from logbook.store import columns

__all__ = ["Income", "income_of", "month_of", "upkeep_of"]

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Income:
    """Prices of the orders done in each month, and what of them each print brought.

    ``share`` (n,) is nan where a print brought nothing, ``share_month`` (n,) the month's number it was paid in.
    """

    known: bool
    by_month: Mapping[int, float]
    share: Floats
    share_month: NDArray[np.int64]


def month_of(day: object) -> int:
    """The number of the month of a date or time, as written."""
    return month_number(str(day)[:7])


def upkeep_of(records: Iterable[Changeover | Cleaning], month: int, waste: Mapping[str, Waste]) -> tuple[Upkeep, Upkeep]:
    """Changeovers and cleanings of one month, each with its ``waste`` by id."""
    mine = [record for record in records if month_of(record.at) == month]
    changeovers = [waste.get(record.id, Waste()) for record in mine if isinstance(record, Changeover)]
    cleanings = [waste.get(record.id, Waste()) for record in mine if isinstance(record, Cleaning)]
    return _sum(changeovers), _sum(cleanings)


def income_of(prints: columns.Prints, orders: Iterable[Order]) -> Income:
    """Income of the orders that are done and priced, shared evenly over the keepers made for each."""
    priced = [order for order in orders if order.price is not None]
    by_month: dict[int, float] = {}
    share, paid = np.full(len(prints.id), np.nan), np.zeros(len(prints.id), dtype=np.int64)
    kept = prints.verdict == "keep"
    rows_of = _rows_by_order(prints, kept)
    for order in priced:
        if order.done is None:
            continue
        month = month_of(order.done)
        by_month[month] = by_month.get(month, 0.0) + (order.price or 0.0)
        rows = rows_of.get(order.id, [])
        if rows:
            share[rows], paid[rows] = (order.price or 0.0) / len(rows), month
    return Income(bool(priced), by_month, share, paid)


def _rows_by_order(prints: columns.Prints, kept: NDArray[np.bool_]) -> dict[str, list[int]]:
    found: dict[str, list[int]] = {}
    for row in np.flatnonzero(kept & known(prints.order)):
        found.setdefault(str(prints.order[row]), []).append(int(row))
    return found


def _sum(parts: Sequence[Waste]) -> Upkeep:
    ml = np.array([part.ink_ml for part in parts], dtype=np.float64)
    cost = np.array([part.cost for part in parts], dtype=np.float64)
    return Upkeep(count=len(parts), ink_ml=known_sum(ml), cost=known_sum(cost))
