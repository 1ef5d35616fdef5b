"""What a print must sell for: the cost of a keeper by paper and size, out of twelve months of the log."""

from __future__ import annotations

from collections import Counter

import numpy as np

from logbook.analysis.month.figures import Sheets, known, known_sum
from logbook.analysis.month.keeper_price import cost_of_keeper
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Paper
from logbook.reports.month.columns import Supplies, paper_price_per_m2, use_on
from logbook.reports.month.model import KeeperPrice
from logbook.reports.month.money import Income
from logbook.store import columns

__all__ = ["keeper_prices", "usual_sizes"]

Mask = NDArray[np.bool_]
Size = tuple[float, float]

SIZES = 6


def usual_sizes(prints: columns.Prints, year: Mask, count: int = SIZES) -> list[Size]:
    """The sizes kept most often, as short and long side in whole mm, smallest first; strips are no size."""
    kept = np.flatnonzero(year & (prints.verdict == "keep"))
    common = Counter(_size(prints, int(row)) for row in kept).most_common(count)
    return sorted((size for size, _ in common), key=lambda size: size[0] * size[1])


def keeper_prices(
    prints: columns.Prints,
    sheets: Sheets,
    supplies: Supplies,
    year: Mask,
    upkeep_cost: float,
    income: Income,
    asked: Size | None = None,
) -> tuple[KeeperPrice, ...]:
    """What a keeper of each size on each paper of the ``year`` costs; ``upkeep_cost`` is shared by all its prints.

    The sizes are those made most often, on the papers they were made on, and the one ``asked`` for on every paper.
    """
    size_asked = (min(asked), max(asked)) if asked is not None else None
    wanted = usual_sizes(prints, year)
    wanted = sorted({*wanted, *([size_asked] if size_asked else [])}, key=lambda size: size[0] * size[1])
    per_print = upkeep_cost / max(int(np.count_nonzero(year)), 1)
    rows = []
    for paper_id in sorted(set(prints.paper[year].tolist()), key=lambda paper: supplies.papers[paper].name):
        on_paper = year & (prints.paper == paper_id)
        for size in wanted:
            row = _keeper_price(prints, sheets, supplies, on_paper, supplies.papers[paper_id], size, per_print, income)
            rows += [row] if row is not None and (row.made or size == size_asked) else []
    return tuple(rows)


def _keeper_price(
    prints: columns.Prints,
    sheets: Sheets,
    supplies: Supplies,
    on_paper: Mask,
    paper: Paper,
    size: Size,
    upkeep_per_print: float,
    income: Income,
) -> KeeperPrice | None:
    """None where the size does not fit the paper, no print on it was kept, or its ink or paper has no price."""
    sheet_cost = _sheet_cost(prints, supplies, on_paper, paper, size)
    ink_cost = _ink_cost(sheets, on_paper, size)
    judged, keepers = (int(np.count_nonzero(on_paper & of)) for of in (known(prints.verdict), prints.verdict == "keep"))
    if sheet_cost is None or ink_cost is None:
        return None
    cost = sheet_cost + ink_cost + upkeep_per_print
    keeper_cost = cost_of_keeper(cost, keepers, judged)
    if keeper_cost is None:
        return None
    same = [int(row) for row in np.flatnonzero(on_paper) if _size(prints, int(row)) == size]
    brought = income.share[same]
    brought = brought[~np.isnan(brought)]
    return KeeperPrice(
        paper=paper.id,
        name=paper.name,
        width_mm=size[0],
        height_mm=size[1],
        prints=judged,
        made=len(same),
        cost_per_print=cost,
        keeper_cost=keeper_cost,
        sold=len(brought),
        sold_for=float(np.mean(brought)) if len(brought) else None,
    )


def _sheet_cost(prints: columns.Prints, supplies: Supplies, on_paper: Mask, paper: Paper, size: Size) -> float | None:
    """Paper for one print with the border that is usual on it, from the stock used last."""
    last = int(np.flatnonzero(on_paper)[-1])
    stock = supplies.stocks.get(prints.stock[last] or "")
    border = np.atleast_1d(np.median(np.nan_to_num(prints.border_mm[on_paper])))
    use = use_on(paper, stock, np.array([size[0]]), np.array([size[1]]), border)
    price = paper_price_per_m2(paper, stock)
    return float(use.used_m2[0]) * price if price is not None and use.fits[0] else None


def _ink_cost(sheets: Sheets, on_paper: Mask, size: Size) -> float | None:
    """Ink for one print, at what the prints on this paper took for each square metre of image."""
    known = on_paper & ~np.isnan(sheets.ink_cost)
    spent, area = known_sum(sheets.ink_cost[known]), float(np.sum(sheets.image_m2[known]))
    return spent / area * (size[0] * size[1] / 1e6) if spent is not None and area > 0 else None


def _size(prints: columns.Prints, row: int) -> Size:
    width, height = round(float(prints.width_mm[row])), round(float(prints.height_mm[row]))
    return float(min(width, height)), float(max(width, height))
