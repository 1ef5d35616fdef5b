"""Columns of all judgements as arrays, for what the last judgement of a print does not tell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from logbook.records.long_work import step

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from logbook.store.opening import Store


CHUNK = 1_000  # rows held as Python objects at a time


@dataclass(frozen=True)
class Judgements:
    """Judgements in time order, one row each. Text columns hold None, number columns NaN where nothing was noted."""

    print: NDArray[np.object_]
    light: NDArray[np.object_]
    shadows: NDArray[np.object_]
    darkness: NDArray[np.float64]
    hours_dry: NDArray[np.float64]


def judgements(store: Store) -> Judgements:
    """Every judgement of the log; ``darkness`` in thirds of a stop, ``hours_dry`` in hours. The columns can't be written to."""
    (count,) = store.connection.execute("SELECT count(*) FROM judgement").fetchone()
    texts, numbers = np.empty((3, count), dtype=object), np.empty((2, count), dtype=np.float64)
    known: dict[str | None, str | None] = {}  # an object serves for each text: they recur by the thousand
    rows = store.connection.execute("SELECT print, light, shadows, darkness, hours_dry FROM judgement ORDER BY instant, entered")
    place = 0
    while chunk := rows.fetchmany(CHUNK):
        step(f"reading {count:,} judgements, {place / count:.0%}")
        span = slice(place, place := place + len(chunk))
        *told, darkness, hours_dry = zip(*chunk, strict=True)
        for row, column in zip(texts, told, strict=True):
            row[span] = [*map(known.setdefault, column, column)]
        numbers[0, span], numbers[1, span] = darkness, hours_dry  # None becomes NaN
    for columns in (texts, numbers):
        columns.setflags(write=False)
    return Judgements(*texts, *numbers)
