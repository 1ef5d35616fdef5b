"""Settings that were always changed together: no calculation can tell them apart."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import combinations

import numpy as np

from logbook.analysis.darkness.terms import Terms
from logbook.analysis.numeric.arrays import NDArray

IntArray = NDArray[np.int64]

#: From this share of prints on which one tells the other's level, two settings are entangled.
ENTANGLED_FROM = 0.95
#: Two settings that hardly ever change tell each other's level by chance; half of the rarer changes must be shared.
SHARED_FROM = 0.5


#: Of a longer log this many prints, evenly spread, say whether a setting was changed once.
MOST_WEIGHED = 2000
#: The pair of a setting that was changed once: whatever else changed with time may have done what it seems to do.
CALENDAR = "calendar"


@dataclass(frozen=True)
class Pair:
    """Two settings, and the share of prints on which either tells the other's level."""

    a: str
    b: str
    overlap: float


def overlap(a: IntArray, b: IntArray) -> float:
    """Share of prints on which the one's level tells the other's, the smaller of the two directions.

    ``a`` and ``b`` are level numbers, (prints,).

    >>> overlap(np.array([0, 0, 1, 1]), np.array([0, 0, 1, 0]))
    0.75
    """
    table = _table(a, b)
    return float(min(table.max(axis=0).sum(), table.max(axis=1).sum()) / len(a))


def shared(a: IntArray, b: IntArray) -> float:
    """How much better one tells the other than its most common level does, the smaller of two directions.

    0: no better; 1: without fault. Goodman & Kruskal's lambda (1954, J. Am. Stat. Assoc. 49, 732-764).

    >>> shared(np.array([0, 0, 0, 1]), np.array([0, 0, 1, 0]))
    0.0
    """
    table = _table(a, b)
    return min(_lambda(table), _lambda(table.T))


def entangled(terms: Terms) -> list[Pair]:
    """The pairs of settings in the model that were (nearly) always changed together, closest first.

    A setting that was changed once, and so belongs to a time of the log, has the calendar for its pair. The terms' prints
    are in time order.
    """
    found = []
    for one in _columns(terms):
        share = _told_by_a_day(one.codes)
        if one.scaled is None and share >= ENTANGLED_FROM:
            found.append(Pair(one.name, CALENDAR, share))
    for a, b in combinations(_columns(terms), 2):
        if a.scaled is not None and b.scaled is not None:
            together = float(np.corrcoef(a.scaled, b.scaled)[0, 1] ** 2)
            strong = together >= ENTANGLED_FROM
        else:
            together = overlap(a.codes, b.codes)
            strong = together >= ENTANGLED_FROM and shared(a.codes, b.codes) >= SHARED_FROM
        if strong:
            found.append(Pair(a.name, b.name, together))
    return sorted(found, key=lambda pair: -pair.overlap)


@dataclass(frozen=True)
class _Column:
    """One setting in the model; ``scaled`` only for slopes, which are compared by their correlation."""

    name: str
    codes: IntArray
    scaled: NDArray[np.float64] | None = None


def _columns(terms: Terms) -> list[_Column]:
    factors = [_Column(factor.name, factor.codes) for factor in terms.factors if factor.levels]
    slopes = [
        _Column(slope.name, np.unique(slope.values, return_inverse=True)[1].astype(np.int64), slope.scaled)
        for slope in terms.slopes
    ]
    return factors + slopes


def _told_by_a_day(codes: IntArray) -> float:
    """The share of prints whose level is told by whether they were made before or after the best single day; 0 where
    that tells less than half of the prints whose level is not the most common one."""
    codes = codes[:: 1 + len(codes) // MOST_WEIGHED]
    count = len(codes)
    counts = np.array([np.bincount(codes)] if count else [[0]])
    before = np.cumsum(codes[:, None] == np.arange(counts.shape[1]), axis=0)
    told = before.max(axis=1) + (counts - before).max(axis=1)
    others = count - int(counts.max())
    best = int(told.max(initial=0))
    return best / count if others and best - int(counts.max()) >= SHARED_FROM * others else 0.0


def _table(a: IntArray, b: IntArray) -> IntArray:
    rows, columns = int(a.max()) + 1, int(b.max()) + 1
    return np.bincount(a * columns + b, minlength=rows * columns).reshape(rows, columns)


def _lambda(table: IntArray) -> float:
    common = int(table.sum(axis=0).max())
    others = int(table.sum()) - common
    return float((table.max(axis=1).sum() - common) / others) if others else 0.0
