"""Judged prints written down by hand."""

from __future__ import annotations

import numpy as np

from logbook.analysis.darkness.judged import IntArray, Judged, TextArray
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.terms import Value
from logbook.analysis.numeric.arrays import NDArray
from tests.analysis.darkness.test_terms import texts

NOWHERE = Surroundings({}, {}, {})


def judged(rating: list[int], settings: list[dict[str, Value]] | None = None, paper: list[str] | None = None) -> Judged:
    """Prints of these ratings, each of a picture of its own, one a day, on one paper with no settings unless they are given;
    nobody noted screen or light."""
    count = len(rating)
    nothing = texts(*[None] * count)
    papers = texts(*(paper or ["rag"] * count))
    return log(np.array(rating, dtype=np.int64), papers, nothing, nothing, settings or [{} for _ in range(count)])


def log(
    rating: IntArray,
    paper: TextArray,
    screen: TextArray,
    light: TextArray,
    settings: list[dict[str, Value]],
    picture: TextArray | None = None,
    day: NDArray[np.datetime64] | None = None,
) -> Judged:
    """Judged prints of these columns, on matte papers; each of a picture of its own, all in one month, unless given."""
    count = len(rating)
    pictures = texts(*(f"picture {one}" for one in range(count))) if picture is None else picture
    days = np.datetime64("2026-01-01") + np.arange(count) % 28 if day is None else day
    return Judged(rating, paper, screen, light, pictures, texts(*["matte"] * count), np.sort(days), settings)
