"""A month's figures out of columns of prints: keepers, paper, ink, money, darkness."""

from __future__ import annotations

import math
from dataclasses import dataclass, fields

import msgspec
import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval, from_normal
from logbook.analysis.numeric.proportion import wilson
from logbook.analysis.numeric.student import student_quantile

__all__ = ["Cost", "Figures", "Sheets", "figures", "known", "known_sum", "month_name", "month_number", "months_before"]

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class Sheets:
    """Prints as equal-length columns (n,), in time order; nan stands for what the log cannot tell.

    ``month`` is a month's number (see ``month_number``), ``darkness_stops`` what was seen, areas are in m², ink in ml,
    costs in money. A test strip (``strip``) has neither verdict nor darkness: nobody keeps or fails it.
    """

    month: NDArray[np.int64]
    paper: NDArray[np.object_]
    strip: NDArray[np.bool_]
    verdict: NDArray[np.object_]
    darkness_stops: Floats
    image_m2: Floats
    paper_m2: Floats
    waste_m2: Floats
    ink_ml: Floats
    ink_cost: Floats
    paper_cost: Floats

    def where(self, mask: Mask) -> Sheets:
        """The prints for which ``mask`` (n,) holds."""
        return Sheets(**{field.name: getattr(self, field.name)[mask] for field in fields(self)})


class Cost(msgspec.Struct, frozen=True, kw_only=True):
    """Money spent; None where the log cannot tell any of it, and nothing else was spent.

    ``changeovers`` holds the cleanings as well.
    """

    ink: float | None
    paper: float | None
    changeovers: float | None
    total: float | None


class Figures(msgspec.Struct, frozen=True, kw_only=True):
    """What some prints came to. Rates are None where there is nothing to divide by.

    ``prints`` are ``strips``, ``judged`` (with a verdict) and those that wait for one. ``keeper_rate`` is keepers among the
    judged, ``attempts_per_keeper`` its inverse. ``paper_m2`` is what left the
    rolls and boxes, ``waste_m2`` the part of it that was cut away. ``ink_ml`` is what the prints took;
    ``ink_unknown_prints`` are left out of it, ``unpriced_prints`` miss the price of their ink or paper.
    """

    prints: int
    strips: int
    judged: int
    keepers: int
    redo: int
    scrap: int
    keeper_rate: Interval | None
    attempts_per_keeper: float | None
    paper_m2: float
    waste_m2: float
    ink_ml: float | None
    ink_unknown_prints: int
    cost: Cost
    unpriced_prints: int
    cost_per_keeper: float | None
    income: float | None
    margin: float | None
    darkness_stops: float | None
    darkness_interval: Interval | None
    darkness_prints: int


def figures(sheets: Sheets, mask: Mask, changeovers: float | None = 0.0, income: float | None = None) -> Figures:
    """The figures of the prints under ``mask`` (n,), which carry ``changeovers`` money and brought ``income``.

    Scrap and redo are carried by the keepers: the cost per keeper is the whole cost over the keepers.
    """
    prints = int(np.count_nonzero(mask))
    verdicts = sheets.verdict[mask]
    keepers, redo, scrap = (int(np.count_nonzero(verdicts == said)) for said in ("keep", "redo", "scrap"))
    judged = keepers + redo + scrap
    cost = _cost(sheets, mask, changeovers)
    seen = sheets.darkness_stops[mask]
    seen = seen[~np.isnan(seen)]
    return Figures(
        prints=prints,
        strips=int(np.count_nonzero(sheets.strip[mask])),
        judged=judged,
        keepers=keepers,
        redo=redo,
        scrap=scrap,
        keeper_rate=wilson(keepers, judged) if judged else None,
        attempts_per_keeper=judged / keepers if keepers else None,
        paper_m2=float(np.sum(sheets.paper_m2[mask])),
        waste_m2=float(np.sum(sheets.waste_m2[mask])),
        ink_ml=known_sum(sheets.ink_ml[mask]),
        ink_unknown_prints=int(np.count_nonzero(np.isnan(sheets.ink_ml[mask]))),
        cost=cost,
        unpriced_prints=int(np.count_nonzero(np.isnan(sheets.ink_cost[mask] + sheets.paper_cost[mask]))),
        cost_per_keeper=cost.total / keepers if keepers and cost.total is not None else None,
        income=income,
        margin=income - cost.total if income is not None and cost.total is not None else None,
        darkness_stops=float(np.mean(seen)) if len(seen) else None,
        darkness_interval=_mean_interval(seen),
        darkness_prints=len(seen),
    )


def known_sum(values: Floats) -> float | None:
    """The sum of what is known (not nan); 0 of nothing, None where there are values and none is known.

    >>> known_sum(np.array([1.0, np.nan])), known_sum(np.array([])), known_sum(np.array([np.nan]))
    (1.0, 0.0, None)
    """
    if len(values) and bool(np.all(np.isnan(values))):
        return None
    return float(np.nansum(values))


def known(column: NDArray[np.object_]) -> Mask:
    """Where a column of text (n,) holds something rather than None.

    >>> known(np.array(["keep", None], dtype=object)).tolist()
    [True, False]
    """
    return np.array([value is not None for value in column], dtype=np.bool_)


def month_number(name: str) -> int:
    """Months since the year 0, of a month as YYYY-MM; ``ValueError`` says what is wrong.

    >>> month_number("2026-11"), month_number("2027-01") - month_number("2026-12")
    (24322, 1)
    """
    year, dash, month = name.partition("-")
    digits = len(year) == 4 and len(month) == 2 and (year + month).isascii() and (year + month).isdigit()
    if not (dash and digits and 1 <= int(month) <= 12 and int(year) > 0):
        raise ValueError(f"{name[:20]!r} is not a month: type it as year and month, such as 2026-11")
    return int(year) * 12 + int(month) - 1


def month_name(number: int) -> str:
    """The month of that number as YYYY-MM.

    >>> month_name(24322)
    '2026-11'
    """
    return f"{number // 12:04d}-{number % 12 + 1:02d}"


def months_before(number: int, count: int) -> range:
    """The numbers of the ``count`` months before a month, oldest first.

    >>> [month_name(n) for n in months_before(month_number("2026-02"), 3)]
    ['2025-11', '2025-12', '2026-01']
    """
    return range(max(number - count, 12), number)


def _cost(sheets: Sheets, mask: Mask, changeovers: float | None) -> Cost:
    ink, paper = known_sum(sheets.ink_cost[mask]), known_sum(sheets.paper_cost[mask])
    known = [part for part in (ink, paper, changeovers) if part is not None]
    told = bool(changeovers) or ink is not None or paper is not None
    return Cost(ink=ink, paper=paper, changeovers=changeovers, total=math.fsum(known) if told else None)


def _mean_interval(values: Floats) -> Interval | None:
    """The mean's central 90 % interval, by Student's t from the spread of the values; None below two values."""
    if len(values) < 2:
        return None
    spread = float(np.std(values, ddof=1))
    return from_normal(float(np.mean(values)), spread / math.sqrt(len(values)), student_quantile(len(values) - 1))
