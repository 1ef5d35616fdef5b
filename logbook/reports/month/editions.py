"""Editions out of the log: no number twice in one edition of a picture, none beyond its size."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.analysis.month.editions import Edition, edition
from logbook.snapshot import Snapshot
from logbook.store.lately import Numbered

__all__ = ["editions"]


def editions(log: Snapshot) -> dict[tuple[str, int | None], Edition]:
    """Every edition, by picture and size.

    A print without a size belongs to the picture's edition where there is only one.
    """
    kept = [print for print in log.numbered if print.counts]
    sizes = _sizes(kept)
    numbers: dict[tuple[str, int | None], list[int]] = {}
    for one in kept:
        known = sizes[one.picture]
        size = one.size if one.size is not None or len(known) != 1 else next(iter(known))
        numbers.setdefault((one.picture, size), []).append(one.number)
    return {key: edition(given, key[1]) for key, given in numbers.items()}


def _sizes(prints: Iterable[Numbered]) -> dict[str, set[int]]:
    sizes: dict[str, set[int]] = {}
    for one in prints:
        sizes.setdefault(one.picture, set()).update(set() if one.size is None else {one.size})
    return sizes
