"""Columns of all judgements as arrays, for what the last judgement of a print does not tell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from logbook.store.opening import Store


@dataclass(frozen=True)
class Judgements:
    """Judgements in time order, one row each. Text columns hold None, number columns NaN where nothing was noted."""

    print: NDArray[np.object_]
    light: NDArray[np.object_]
    shadows: NDArray[np.object_]
    darkness: NDArray[np.float64]
    hours_dry: NDArray[np.float64]


def judgements(store: Store) -> Judgements:
    """Every judgement of the log; ``darkness`` in thirds of a stop, ``hours_dry`` in hours."""
    rows = store.connection.execute(
        "SELECT print, light, shadows, darkness, hours_dry FROM judgement ORDER BY instant, entered"
    ).fetchall()
    texts = np.empty((3, len(rows)), dtype=object)
    for place, row in enumerate(rows):
        texts[:, place] = row[:3]
    numbers = np.array([row[3:] for row in rows], dtype=np.float64).reshape(len(rows), 2)
    return Judgements(texts[0], texts[1], texts[2], numbers[:, 0], numbers[:, 1])
