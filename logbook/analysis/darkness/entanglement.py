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


#: In a longer log this many evenly spread prints tell whether a setting belongs to one part of its time.
MOST_WEIGHED = 2000
#: The pair of a setting that was changed once: whatever else changed with time may have done what it seems to do.
CALENDAR = "calendar"


@dataclass(frozen=True)
class Switch:
    """A setting that went from one level to another with the print numbered ``first``.

    That tells the level of a ``share`` of all prints; ``back`` are those that have the old level later, or the new one before.
    """

    first: int
    share: float
    back: int


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

    A setting that was changed once, and never back, has the calendar for its pair. The terms' prints are in time order.
    """
    found = []
    for factor in terms.factors:
        once = switched(factor.codes) if factor.levels else None
        if once is not None and once.share >= ENTANGLED_FROM and not once.back:
            found.append(Pair(factor.name, CALENDAR, once.share))
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


def switched(codes: IntArray) -> Switch | None:
    """Where the levels, (prints,) in time order, change for good; None where that tells too little of them.

    At least half of the prints whose level is not the most common one must be told.

    >>> switched(np.array([0, 0, 0, 1, 1, 0, 1]))
    Switch(first=3, share=0.8571428571428571, back=1)
    """
    some = codes[:: 1 + len(codes) // MOST_WEIGHED]
    counts = np.bincount(some)
    before = np.cumsum(some[:, None] == np.arange(len(counts)), axis=0)
    told = before.max(axis=1, initial=0) + (counts - before).max(axis=1, initial=0)
    best = int(told.argmax()) if len(some) else 0
    others = len(some) - int(counts.max(initial=0))
    if not others or told[best] - counts.max() < SHARED_FROM * others:
        return None
    old, new = int(before[best].argmax()), int((counts - before[best]).argmax())
    is_old, is_new = codes == old, codes == new
    first = int(np.cumsum(is_old.astype(np.int64) - is_new).argmax()) + 1
    back = int(is_new[:first].sum() + is_old[first:].sum())
    return Switch(first, float(is_old[:first].sum() + is_new[first:].sum()) / len(codes), back)


def _table(a: IntArray, b: IntArray) -> IntArray:
    rows, columns = int(a.max()) + 1, int(b.max()) + 1
    return np.bincount(a * columns + b, minlength=rows * columns).reshape(rows, columns)


def _lambda(table: IntArray) -> float:
    common = int(table.sum(axis=0).max())
    others = int(table.sum()) - common
    return float((table.max(axis=1).sum() - common) / others) if others else 0.0
