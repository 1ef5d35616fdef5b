"""Which papers come out the same every time: the spread of darkness, and first attempts that were kept."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.rating import ROUNDING_STOPS
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval
from logbook.analysis.numeric.proportion import wilson

FloatArray = NDArray[np.float64]
TextArray = NDArray[np.object_]

#: Fewer ratings than this give no spread worth a number.
FEWEST_RATINGS = 5


@dataclass(frozen=True)
class PaperConsistency:
    """How steady one paper is; ``kept_first`` is the share of its ``first_attempts`` that were kept."""

    paper: str
    prints: int
    spread_stops: Interval | None
    first_attempts: int
    kept_first: Interval


def consistency(paper: TextArray, darkness: FloatArray, verdict: TextArray, attempt_of: TextArray) -> list[PaperConsistency]:
    """Every paper's steadiness, the steadiest first; ``darkness`` in thirds of a stop, NaN where not judged.

    All columns are (prints,). A first attempt is a print that tries nothing again and has a verdict.

    >>> names = np.array(["rag"] * 6, dtype=object)
    >>> nothing = np.array([None] * 6, dtype=object)
    >>> verdicts = np.array(["keep"] * 5 + ["redo"], dtype=object)
    >>> [one] = consistency(names, np.array([0, -1, 0, 1, 0, -1.0]), verdicts, nothing)
    >>> one.first_attempts, round(one.kept_first.value, 3)
    (6, 0.833)
    """
    papers = sorted({str(one) for one in paper})
    first = np.array(
        [before is None and said is not None for before, said in zip(attempt_of, verdict, strict=True)], dtype=np.bool_
    )
    out = []
    for name in papers:
        own = paper == name
        stops = darkness[own & np.isfinite(darkness)] / 3
        tried = own & first
        kept = int((verdict[tried] == "keep").sum())
        out.append(PaperConsistency(name, len(stops), spread(stops), int(tried.sum()), wilson(kept, int(tried.sum()))))
    return sorted(out, key=_unsteadiness)


def spread(stops: FloatArray) -> Interval | None:
    """Standard deviation of ratings in stops, less what their rounding adds; None where there are too few.

    The interval is that of a chi-square (Wilson & Hilferty 1931, PNAS 17, 684-688).

    >>> found = spread(np.array([0, 0, 1, -1, 0, 1, -1, 0]) / 3)
    >>> found is not None and found.low < found.value < found.high
    True
    """
    freedom = len(stops) - 1
    if freedom < FEWEST_RATINGS - 1:
        return None
    square = float(stops.var(ddof=1))
    ends = [freedom * square / _chi_square(freedom, z) for z in (Z90, -Z90)]
    value, low, high = (float(np.sqrt(max(one - ROUNDING_STOPS**2, 0.0))) for one in (square, *ends))
    return Interval(value, low, high)


def _chi_square(freedom: int, z: float) -> float:
    part = 2 / (9 * freedom)
    return float(freedom * (1 - part + z * np.sqrt(part)) ** 3)


def _unsteadiness(one: PaperConsistency) -> tuple[float, float]:
    """Least spread first, as far as it is known; papers with too few ratings last."""
    return one.spread_stops.high if one.spread_stops else np.inf, -one.prints
