"""What each picture took and brought: in the month, and in the twelve months that end with it."""

from __future__ import annotations

from collections.abc import Mapping

import msgspec
import numpy as np

from logbook.analysis.month.figures import Sheets, known_sum
from logbook.analysis.numeric.arrays import NDArray
from logbook.reports.month.model import PictureMonth
from logbook.reports.month.money import Income
from logbook.snapshot import Snapshot
from logbook.store import columns

__all__ = ["pictures_of"]

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]
Rows = NDArray[np.int64]


class _Sum(msgspec.Struct, frozen=True, kw_only=True):
    prints: int
    keepers: int
    cost: float | None
    income: float | None
    margin: float | None


def pictures_of(
    log: Snapshot,
    prints: columns.Prints,
    sheets: Sheets,
    income: Income,
    upkeep_per_print: Mapping[int, float],
    month: int,
    chosen: Mask,
) -> tuple[PictureMonth, ...]:
    """Pictures printed or sold in the month, those with most prints first; each print carries its month's upkeep."""
    carried = np.array([upkeep_per_print.get(int(number), 0.0) for number in sheets.month])
    parts = [np.nan_to_num(sheets.ink_cost), np.nan_to_num(sheets.paper_cost), carried]
    unknown = np.isnan(sheets.ink_cost) & np.isnan(sheets.paper_cost)
    cost = np.where(unknown, np.nan, np.sum(parts, axis=0))
    year = chosen & (sheets.month > month - 12) & (sheets.month <= month)
    now = chosen & (sheets.month == month)
    sold = chosen & (income.share_month == month) & ~np.isnan(income.share)
    paid_now = chosen & (income.share_month == month)
    paid_year = chosen & (income.share_month > month - 12) & (income.share_month <= month)
    own = _rows_of_pictures(prints)
    rows = [
        _picture_row(
            log,
            str(picture),
            *(
                _sum(prints, cost, income, own[picture][made[own[picture]]], own[picture][paid[own[picture]]])
                for made, paid in ((now, paid_now), (year, paid_year))
            ),
        )
        for picture in sorted(set(prints.picture[now | sold].tolist()))
    ]
    return tuple(sorted(rows, key=lambda row: (-row.prints, row.title)))


def _rows_of_pictures(prints: columns.Prints) -> dict[str, Rows]:
    """The rows of each picture's prints, in time order."""
    found: dict[str, list[int]] = {}
    for row, picture in enumerate(prints.picture.tolist()):
        found.setdefault(picture, []).append(row)
    return {picture: np.array(rows, dtype=np.int64) for picture, rows in found.items()}


def _picture_row(log: Snapshot, picture: str, this: _Sum, whole: _Sum) -> PictureMonth:
    return PictureMonth(
        picture=picture,
        title=log.pictures[picture].title,
        prints=this.prints,
        keepers=this.keepers,
        cost=this.cost,
        income=this.income,
        margin=this.margin,
        year_prints=whole.prints,
        year_keepers=whole.keepers,
        year_cost=whole.cost,
        year_income=whole.income,
        year_margin=whole.margin,
    )


def _sum(prints: columns.Prints, cost: Floats, income: Income, made: Rows, paid: Rows) -> _Sum:
    spent = known_sum(cost[made])
    brought = known_sum(income.share[paid]) if len(paid) else None
    return _Sum(
        prints=len(made),
        keepers=int(np.count_nonzero(prints.verdict[made] == "keep")),
        cost=spent,
        income=brought,
        margin=None if brought is None else brought - (spent or 0.0),
    )
