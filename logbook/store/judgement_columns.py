"""Columns of all judgements as arrays, for what the last judgement of a print does not tell."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from logbook.records.long_work import step

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from logbook.store.opening import Store


_JUDGEMENTS = """
SELECT print, light, shadows, verdict, darkness, hours_dry, instant, substr(at, 1, 10)
FROM judgement ORDER BY instant, entered
"""
CHUNK = 1_000  # rows held as Python objects at a time


@dataclass(frozen=True)
class Judgements:
    """Judgements in time order, one row each. Text columns hold None, number columns NaN where nothing was noted.

    ``darkness`` is in thirds of a stop, ``hours_dry`` in hours, ``at`` in seconds of UTC since 1970; ``day`` is the date written
    in its time.
    """

    print: NDArray[np.object_]
    light: NDArray[np.object_]
    shadows: NDArray[np.object_]
    verdict: NDArray[np.object_]
    darkness: NDArray[np.float64]
    hours_dry: NDArray[np.float64]
    at: NDArray[np.float64]
    day: NDArray[np.datetime64]


def judgements(store: Store) -> Judgements:
    """Every judgement of the log. The columns can't be written to: all who ask share them."""
    (count,) = store.connection.execute("SELECT count(*) FROM judgement").fetchone()
    texts, numbers = np.empty((4, count), dtype=object), np.empty((3, count), dtype=np.float64)
    days = np.empty(count, dtype="datetime64[D]")
    known: dict[str | None, str | None] = {}  # an object serves for each text: they recur by the thousand
    rows = store.connection.execute(_JUDGEMENTS)
    place = 0
    while chunk := rows.fetchmany(CHUNK):
        step(f"reading {count:,} judgements, {place / count:.0%}")
        span = slice(place, place := place + len(chunk))
        *told, darkness, hours_dry, instants, days[span] = zip(*chunk, strict=True)
        for row, column in zip(texts, told, strict=True):
            row[span] = [*map(known.setdefault, column, column)]
        numbers[0, span], numbers[1, span], numbers[2, span] = darkness, hours_dry, instants  # None becomes NaN
    numbers[2] /= 1e6
    for columns in (texts, numbers, days):
        columns.setflags(write=False)
    print, light, shadows, verdict = texts
    darkness, hours_dry, at = numbers
    return Judgements(print, light, shadows, verdict, darkness, hours_dry, at, days)
