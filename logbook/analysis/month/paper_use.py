"""How much paper a print takes: a length of roll, or a sheet from a box.

Plain geometry. A print is its image with a border on each side; from a roll it takes the roll's whole width for
the length it is laid along, from a box it takes one sheet. What is cut away is told apart as waste.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import ArrayLike, NDArray
from logbook.records.units import ROUNDING_MM

__all__ = ["PaperUse", "from_box", "from_roll", "unbound"]

Floats = NDArray[np.float64]

MM2_PER_M2 = 1e6


@dataclass(frozen=True)
class PaperUse:
    """Paper taken by prints; equal-length arrays (n,).

    ``used_m2`` is all that left the roll or the box, ``trimmed_m2`` the image with its borders, ``waste_m2`` the
    difference; ``length_mm`` is the roll used (nan where none is); ``fits`` is False where the image with its
    borders is larger than the paper it is said to be on.
    """

    used_m2: Floats
    trimmed_m2: Floats
    waste_m2: Floats
    length_mm: Floats
    fits: NDArray[np.bool_]


def from_roll(width_mm: ArrayLike, height_mm: ArrayLike, border_mm: ArrayLike, roll_mm: ArrayLike) -> PaperUse:
    """Paper taken from a roll ``roll_mm`` wide, each print laid the way that fits and uses the least roll.

    ``width_mm`` and ``height_mm`` are those of the image, ``border_mm`` is on each side; shapes (n,) or single.
    A print that fits neither way is taken to lie with its short side across: the log says it was printed.

    >>> use = from_roll(300, 400, 25, 610)
    >>> float(use.length_mm[0]), round(float(use.used_m2[0]), 4), round(float(use.waste_m2[0]), 4)
    (350.0, 0.2135, 0.056)
    """
    short, long = _sides(width_mm, height_mm, border_mm)
    roll = np.broadcast_to(np.asarray(roll_mm, dtype=np.float64), short.shape)
    length = np.where(long <= roll + ROUNDING_MM, short, long)
    return _use(roll * length / MM2_PER_M2, short * long / MM2_PER_M2, length, short <= roll + ROUNDING_MM)


def from_box(
    width_mm: ArrayLike, height_mm: ArrayLike, border_mm: ArrayLike, sheet_width_mm: ArrayLike, sheet_length_mm: ArrayLike
) -> PaperUse:
    """Paper taken from a box: one sheet for each print, whatever its image leaves of it.

    >>> use = from_box(180, 240, 10, 210, 297)
    >>> round(float(use.used_m2[0]), 5), round(float(use.waste_m2[0]), 5)
    (0.06237, 0.01037)
    """
    short, long = _sides(width_mm, height_mm, border_mm)
    sheet_short, sheet_long = _sides(sheet_width_mm, sheet_length_mm, 0.0)
    fits = (short <= sheet_short + ROUNDING_MM) & (long <= sheet_long + ROUNDING_MM)
    used = np.broadcast_to(sheet_short * sheet_long / MM2_PER_M2, short.shape)
    return _use(used, short * long / MM2_PER_M2, np.full(short.shape, np.nan), fits)


def unbound(width_mm: ArrayLike, height_mm: ArrayLike, border_mm: ArrayLike) -> PaperUse:
    """Paper taken where the log does not know the size of roll or sheet: the image with its borders, no waste.

    >>> round(float(unbound(300, 400, 25).used_m2[0]), 4)
    0.1575
    """
    short, long = _sides(width_mm, height_mm, border_mm)
    area = short * long / MM2_PER_M2
    return _use(area, area, np.full(short.shape, np.nan), np.ones(short.shape, dtype=bool))


def _sides(width_mm: ArrayLike, height_mm: ArrayLike, border_mm: ArrayLike) -> tuple[Floats, Floats]:
    """Short and long side of the image with its borders, in mm, shapes (n,)."""
    edge = 2.0 * np.nan_to_num(np.asarray(border_mm, dtype=np.float64))
    width = np.atleast_1d(np.asarray(width_mm, dtype=np.float64) + edge)
    height = np.atleast_1d(np.asarray(height_mm, dtype=np.float64) + edge)
    return np.minimum(width, height), np.maximum(width, height)


def _use(used_m2: Floats, trimmed_m2: Floats, length_mm: Floats, fits: NDArray[np.bool_]) -> PaperUse:
    return PaperUse(used_m2, trimmed_m2, np.maximum(used_m2 - trimmed_m2, 0.0), length_mm, fits)
