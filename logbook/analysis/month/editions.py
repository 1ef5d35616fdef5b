"""Editions: which numbers of a picture are given, which is next, and what is wrong."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

__all__ = ["Edition", "edition"]


@dataclass(frozen=True)
class Edition:
    """``given`` numbers of an edition of ``size``; ``next_number`` is None where the edition is full.

    ``twice`` are numbers that more than one print bears, ``beyond`` those above the size.
    """

    size: int | None
    given: tuple[int, ...]
    next_number: int | None
    twice: tuple[int, ...]
    beyond: tuple[int, ...]


def edition(numbers: Sequence[int], size: int | None) -> Edition:
    """State of one edition from the ``numbers`` (>= 1) on its prints; redone and scrapped prints give theirs back.

    >>> edition([1, 2, 2, 4, 6], size=5)
    Edition(size=5, given=(1, 2, 4, 6), next_number=3, twice=(2,), beyond=(6,))
    """
    counts = Counter(numbers)
    given = tuple(sorted(counts))
    free = next(number for number in range(1, len(given) + 2) if number not in counts)
    return Edition(
        size=size,
        given=given,
        next_number=free if size is None or free <= size else None,
        twice=tuple(number for number in given if counts[number] > 1),
        beyond=tuple(number for number in given if size is not None and number > size),
    )
