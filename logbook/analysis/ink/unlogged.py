"""Sheets that were made and never logged: told by finished rolls and boxes, or by the printer's own count."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.proportion import wilson

Floats = NDArray[np.float64]

__all__ = ["Batch", "Unlogged", "days_unlogged", "share_unlogged"]

#: What was not logged is spread over so many printing days on either side: many more than lie between two readings, for
#: else what is missing there would seem to follow what is not.
DAYS_AROUND = 30
DAY_SECONDS = 86_400.0
#: The largest share: a larger one, where hardly anything was logged, is set to this.
MOST = 0.9


@dataclass(frozen=True)
class Batch:
    """Sheets of which somebody kept count: how many were ``made``, and how many of them were ``logged``."""

    made: float
    logged: float


@dataclass(frozen=True)
class Unlogged:
    """The ``share`` of all sheets that was never logged, told by ``source`` on ``made`` sheets, ``missing`` of them.

    ``weight`` is how many sheets that share is as sure as.
    """

    share: Interval
    source: str
    made: float
    missing: float
    weight: float

    @property
    def per_logged(self) -> float:
        """How many sheets were not logged for each that was."""
        return self.share.value / (1.0 - self.share.value)

    def drawn(self, count: int) -> Floats:
        """Shares (count,) that are possible (a beta distribution about the share); the same each time."""
        missing = self.share.value * self.weight
        return np.random.default_rng(count).beta(missing + 0.5, self.weight - missing + 0.5, count)


def share_unlogged(batches: Sequence[Batch], source: str) -> Unlogged | None:
    """The share of unlogged sheets over some batches (each with something made); None without any.

    Wilson's interval on as many sheets as the batches are worth: where these differ by more than chance, fewer count
    (the variance of a ratio over clusters: Cochran, Sampling Techniques, 3rd ed. 1977, sect. 9A.5).

    >>> found = share_unlogged([Batch(25.0, 25.0), Batch(25.0, 19.0), Batch(50.0, 44.0)], "paper")
    >>> found.share.value, found.made, found.missing
    (0.12, 100.0, 12.0)
    """
    made = np.array([batch.made for batch in batches if batch.made > 0.0])
    if not len(made):
        return None
    # A sheet put down to one batch that came from the next is missing in this one and too many in that: the sum is right.
    missing = made - np.array([batch.logged for batch in batches if batch.made > 0.0])
    whole = float(np.sum(made))
    share = min(MOST, max(0.0, float(np.sum(missing)) / whole))
    scatter = 1.0
    if len(made) > 1 and 0.0 < share < 1.0:
        scatter = max(1.0, float(np.sum((missing - share * made) ** 2 / made) / (share * (1.0 - share) * (len(made) - 1))))
    weight = whole / scatter
    return Unlogged(wilson(share * weight, weight), source, whole, share * whole, weight)


def days_unlogged(per_logged: float, at: Floats, amount: Floats, blacks: NDArray[np.object_]) -> list[tuple[float, str, float]]:
    """When how much area was printed with which black and never logged, so much ``per_logged`` area.

    ``at`` (n,) Unix s, ``amount`` (n,) area and ``blacks`` (n,) are those of the prints that were logged. Sheets that go
    missing by chance leave busy and quiet days alike: what is missing on a day follows not what was logged on that day, but
    how much is printed around it.
    """
    found: list[tuple[float, str, float]] = []
    for black in dict.fromkeys(blacks):
        own = blacks == black
        day, place = np.unique(at[own] // DAY_SECONDS, return_inverse=True)
        area = np.bincount(place, amount[own])
        last = np.zeros(len(day))
        np.maximum.at(last, place, at[own])
        n = np.arange(len(day))
        low, high = np.maximum(n - DAYS_AROUND, 0), np.minimum(n + DAYS_AROUND + 1, len(day))
        upto = np.concatenate([[0.0], np.cumsum(area)])
        level = (upto[high] - upto[low]) / (high - low)
        level *= np.sum(area) / (np.sum(level) or 1.0)
        found += [(float(when), str(black), float(per_logged * much)) for when, much in zip(last, level, strict=True)]
    return found
