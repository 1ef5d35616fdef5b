"""Judged prints written down by hand."""

from __future__ import annotations

import numpy as np

from logbook.analysis.darkness.answer import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.terms import Value
from tests.analysis.darkness.test_terms import texts

NOWHERE = Surroundings({}, {}, {})


def judged(rating: list[int], settings: list[dict[str, Value]] | None = None, paper: list[str] | None = None) -> Judged:
    """Prints of these ratings, on one paper with no settings unless they are given; nobody noted screen or light."""
    count = len(rating)
    nothing = texts(*[None] * count)
    papers = texts(*(paper or ["rag"] * count))
    return Judged(np.array(rating, dtype=np.int64), papers, nothing, nothing, settings or [{} for _ in range(count)])
