"""An effect drawn in one line: its 90 % interval, the zero, and the raw ratings behind."""

from __future__ import annotations

import math
from collections.abc import Sequence

from textual.content import Content

from logbook.analysis.numeric.interval import Interval

ZERO, POINT, WHISKER, END_LOW, END_HIGH = "┊", "●", "─", "├", "┤"
#: Raw ratings behind: from nothing to a third and more of a level's prints in one cell.
DENSITY = " ·∙▪"
REACHES = (0.25, 0.5, 1.0, 2.0)


def reach_for(intervals: Sequence[Interval]) -> float:
    """The stops that the picture shows to either side of zero: the least that holds every interval.

    >>> reach_for([Interval(-0.3, -0.4, -0.2)])
    0.5
    """
    most = max((max(abs(one.low), abs(one.high)) for one in intervals), default=0.0)
    return next((reach for reach in REACHES if most <= reach), REACHES[-1])


def effect_bar(effect: Interval, ratings: Sequence[int], average: float, reach: float, width: int) -> Content:
    """The line, ``width`` cells from -``reach`` to +``reach`` stops; ``ratings`` counts -6 to +6 thirds.

    The raw ratings stand where they differ from ``average``, the darkness of all prints in stops.

    >>> effect_bar(Interval(-0.25, -0.4, -0.1), (0,) * 13, 0.0, 0.5, 21).plain
    '  ├──●──┤ ┊          '
    """
    cells = _raw(ratings, average, reach, width)
    quiet = [True] * width
    zero = _cell(0.0, reach, width)
    cells[zero] = ZERO
    low, high = _cell(effect.low, reach, width), _cell(effect.high, reach, width)
    for cell in range(low, high + 1):
        cells[cell], quiet[cell] = WHISKER, False
    if high > low:
        cells[low], cells[high] = END_LOW, END_HIGH
    at = _cell(effect.value, reach, width)
    cells[at], quiet[at] = POINT, False
    return Content.assemble(*((sign, "$quiet" if dim else "$foreground") for sign, dim in zip(cells, quiet, strict=True)))


def scale_line(reach: float, width: int) -> Content:
    """The figures above the bars, each where its stops are, and what the sides mean where there is room.

    >>> scale_line(0.5, 41).plain
    '½ darker  ¼         0         ¼ lighter ½'
    >>> scale_line(1.0, 19).plain
    '1    ½   0    ½   1'
    """
    cells = [" "] * width
    darker, lighter = " darker", "lighter "
    if _cell(reach / 2, reach, width) + 1 < width - len(lighter) - 1:
        cells[1 : 1 + len(darker)], cells[-1 - len(lighter) : -1] = darker, lighter
    for stops in (-reach, -reach / 2, 0.0, reach / 2, reach):
        cells[_cell(stops, reach, width)] = _figure(abs(stops))
    return Content.styled("".join(cells), "$quiet")


def _figure(stops: float) -> str:
    return {0.0: "0", 0.125: "⅛", 0.25: "¼", 0.5: "½"}.get(stops, f"{stops:g}")


def _cell(stops: float, reach: float, width: int) -> int:
    place = math.floor((stops + reach) / (2 * reach) * (width - 1) + 0.5)
    return min(max(place, 0), width - 1)


def _raw(ratings: Sequence[int], average: float, reach: float, width: int) -> list[str]:
    counts = [0] * width
    for thirds, count in enumerate(ratings, -6):
        stops = thirds / 3 - average
        if count and abs(stops) <= reach:
            counts[_cell(stops, reach, width)] += count
    total = sum(ratings) or 1
    return [DENSITY[min(math.ceil(count / total * 9 / 2), 3) if count else 0] for count in counts]
