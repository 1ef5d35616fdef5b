"""What was advised, what was done, and how it came out: the score on prints that were foretold as they were logged."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

import msgspec
import numpy as np

from logbook.records.darkness import stops_text
from logbook.records.text import plain
from logbook.records.wording import counted, print_number
from logbook.reports.darkness.amounts import darker_in_words
from logbook.snapshot import Snapshot
from logbook.snapshot.foretold import Foretold, foretold

#: A brightening this near to the advised one follows it.
FOLLOWED_WITHIN = 0.05


class Kept(msgspec.Struct, frozen=True, kw_only=True):
    """One print that was foretold: ``stops`` is how it was judged, None where it is not judged yet."""

    id: str
    number: int
    title: str
    day: dt.date
    told: Foretold
    stops: float | None

    @property
    def followed(self) -> bool:
        """Whether it was printed as advised; where nothing was advised there is nothing to follow."""
        return self.told.advised is not None and abs(self.told.done - self.told.advised) <= FOLLOWED_WITHIN


class OwnScore(msgspec.Struct, frozen=True, kw_only=True):
    """Of ``prints`` foretold and judged ones ``held`` fell where nine in ten should; how far from the screen those set as
    advised and the others came out, on average in stops (None of none)."""

    prints: int
    held: int
    as_advised: int
    as_advised_stops: float | None
    otherwise: int
    otherwise_stops: float | None


def kept(log: Snapshot) -> tuple[Kept, ...]:
    """The prints that were foretold and are still in the log, the newest first."""
    told = foretold(log)
    if not told:
        return ()
    prints = log.prints()
    row_of = {id: row for row, id in enumerate(prints.id)}
    return tuple(
        Kept(
            id=one.print,
            number=int(prints.number[row]),
            title=log.pictures[prints.picture[row]].title,
            day=prints.day[row].astype(object),
            told=one,
            stops=float(np.rint(prints.darkness[row]) / 3) if np.isfinite(prints.darkness[row]) else None,
        )
        for one in reversed(told)
        if (row := row_of.get(one.print)) is not None
    )


def own_score(kept_ones: Iterable[Kept]) -> OwnScore | None:
    """The score of those that are judged; None where none is."""
    judged = [(one, one.stops) for one in kept_ones if one.stops is not None]
    if not judged:
        return None
    followed = [abs(stops) for one, stops in judged if one.followed]
    otherwise = [abs(stops) for one, stops in judged if not one.followed and one.told.advised is not None]
    return OwnScore(
        prints=len(judged),
        held=sum(one.told.low <= stops <= one.told.high for one, stops in judged),
        as_advised=len(followed),
        as_advised_stops=_mean(followed),
        otherwise=len(otherwise),
        otherwise_stops=_mean(otherwise),
    )


def _mean(values: Sequence[float]) -> float | None:
    return sum(values) / len(values) if values else None


def score_sentence(score: OwnScore) -> str:
    """The score in a line."""
    said = f"Of {counted(score.prints, 'print')} foretold as {'it was' if score.prints == 1 else 'they were'} logged"
    said = f"{said} {score.held} came out where nine in ten should"
    parts = [
        f"{count} {how} came out {stops:.2f} stops from the screen"
        for count, stops, how in (
            (score.as_advised, score.as_advised_stops, "set as advised"),
            (score.otherwise, score.otherwise_stops, "set otherwise"),
        )
        if stops is not None
    ]
    return f"{said}{'; ' if parts else ''}{', '.join(parts)}."


def kept_sentence(one: Kept) -> str:
    """What was said of a print, what was done, and how it came out."""
    told = one.told
    advised = "nothing advised" if told.advised is None else f"advised {stops_text(told.advised)}"
    came_out = "not judged yet" if one.stops is None else darker_in_words(one.stops)
    name = f"{print_number(one.number)} {plain(one.title)}"
    within = f"{stops_text(told.low)} to {stops_text(told.high)}"
    return f"{name}: {advised}, set {stops_text(told.done)}; foretold {within}; {came_out}"
