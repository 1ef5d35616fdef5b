"""The answer's own score: what the log would have said of its newest prints before they were made, and how they came out."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from logbook.analysis.darkness.advice import advise
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.prediction import UnknownLevelError
from logbook.analysis.darkness.terms import Value, read_terms
from logbook.analysis.numeric.arrays import NDArray

#: So many of the newest prints are foretold, from so many before them.
FORETOLD, LEARNT_FROM = 100, 1500
#: A log must have taught this many prints before its word is held against anything.
FEWEST_BEFORE = 60


@dataclass(frozen=True)
class Score:
    """Of ``prints`` foretold ones ``held`` fell where nine in ten should; misses are means, in stops.

    ``paper_miss_stops`` is that of each paper's plain average.
    """

    prints: int
    held: int
    miss_stops: float
    paper_miss_stops: float


def score(judged: Judged, place: Surroundings) -> Score | None:
    """Foretell the newest prints, each with what its picture and its day had shown before them; None of a short log."""
    last = min(FORETOLD, len(judged) // 5)
    start = max(0, len(judged) - last - LEARNT_FROM)
    before, later = np.arange(start, len(judged) - last), np.arange(len(judged) - last, len(judged))
    if len(before) < FEWEST_BEFORE:
        return None
    log = _some(judged, before)
    model = fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), place)
    held, misses, plain = 0, [], []
    for row in later:
        values: dict[str, Value] = {**judged.settings[row]}
        values |= {name: one for name, one in (("light", judged.light[row]), ("screen", judged.screen[row])) if one is not None}
        try:
            told = advise(model, judged.paper[row], values, judged.picture[row], judged.day[row])
        except UnknownLevelError:  # something not seen before: nothing was foretold
            continue
        held += not told.print_stops.excludes(judged.rating[row] / 3)
        misses.append(abs(told.expected_stops.value - judged.rating[row] / 3))
        plain.append(abs(float(log.rating[log.paper == judged.paper[row]].mean()) / 3 - judged.rating[row] / 3))
    if not misses:
        return None
    return Score(len(misses), held, float(np.mean(misses)), float(np.mean(plain)))


def _some(judged: Judged, rows: NDArray[np.int64]) -> Judged:
    columns = {name: getattr(judged, name)[rows] for name in ("rating", "paper", "screen", "light", "picture", "black", "day")}
    return replace(judged, **columns, settings=[judged.settings[row] for row in rows], again=None)
