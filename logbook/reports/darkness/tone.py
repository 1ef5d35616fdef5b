"""What the place Tone shows: the darkness answer with the raw ratings behind it, and how it went over time."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.rating import EXTREME
from logbook.analysis.darkness.terms import code_levels
from logbook.analysis.darkness.trend import TrendPoint, trend
from logbook.records import Cartridge, Screen
from logbook.records.wording import ink_text
from logbook.reports.darkness import answer as darkness
from logbook.reports.darkness.columns import counted
from logbook.reports.darkness.kept import Kept, kept
from logbook.reports.darkness.model import DarknessAnswer, Value
from logbook.snapshot import Snapshot, answered
from logbook.store import columns

Key = tuple[str, bool, Value]
CALIBRATED, INSTALLED = "│", "▾"


@dataclass(frozen=True)
class Query:
    """Which prints are asked about: on one paper, since a day, where given."""

    paper: str | None = None
    since: dt.date | None = None


@dataclass(frozen=True)
class Mark:
    """Something that changed on a day: a screen calibrated, a cartridge installed."""

    day: dt.date
    what: str
    sign: str


@dataclass(frozen=True)
class Tone:
    """The answer to a query. ``ratings`` counts the ratings -6 to +6 of every level; ``papers`` are ids, most used first."""

    query: Query
    answer: DarknessAnswer
    ratings: dict[Key, tuple[int, ...]]
    papers: tuple[str, ...]
    foretold: tuple[Kept, ...]
    points: tuple[TrendPoint, ...]
    marks: tuple[Mark, ...]


def key_of(setting: str, level: Value) -> Key:
    """A level as a key; ``True`` is not 1."""
    return setting, isinstance(level, bool), level


@answered
def tone(log: Snapshot, query: Query) -> Tone:
    """Everything that Tone shows for a query."""
    answer = darkness.answer(log, since=query.since, paper=query.paper)
    prints = _asked(log, query)
    stops = np.rint(prints.darkness) / 3
    points = trend(prints.day, stops)
    return Tone(query, answer, _ratings(prints, answer), _papers(log), kept(log), tuple(points), _marks(log, points))


def prints_at(log: Snapshot, query: Query, setting: str, level: Value) -> list[str]:
    """Ids of the prints that a level's numbers come from, newest first."""
    prints = _asked(log, query)
    wanted = key_of(setting, level)
    rows = [
        id
        for id, one in zip(prints.id, _column(prints, setting), strict=True)
        if one is not None and key_of(setting, one) == wanted
    ]
    return rows[::-1]


def _asked(log: Snapshot, query: Query) -> columns.Prints:
    prints = log.prints(query.since, None, query.paper, None)
    return prints.where(counted(prints))


def _column(prints: columns.Prints, setting: str) -> list[Value | None]:
    if setting in ("paper", "screen", "light"):
        return list(getattr(prints, setting))
    return [one.get(setting.removeprefix("setting ")) for one in prints.settings]


def _ratings(prints: columns.Prints, answer: DarknessAnswer) -> dict[Key, tuple[int, ...]]:
    rating = np.rint(prints.darkness).astype(np.int64) + EXTREME
    width = 2 * EXTREME + 1
    out: dict[Key, tuple[int, ...]] = {}
    for setting in dict.fromkeys(one.setting for one in answer.settings):
        levels, codes = code_levels(_column(prints, setting))
        table = np.bincount(codes * width + rating, minlength=(len(levels) + 1) * width).reshape(-1, width)
        for level, counts in zip(levels, table, strict=False):
            out[key_of(setting, level)] = tuple(int(one) for one in counts)
    return out


def _papers(log: Snapshot) -> tuple[str, ...]:
    prints = log.prints()
    return tuple(id for id, _ in Counter(prints.paper[counted(prints)]).most_common())


def _marks(log: Snapshot, points: list[TrendPoint]) -> tuple[Mark, ...]:
    """Calibrations and new cartridges within the time of the trend, in time order."""
    if not points:
        return ()
    calibrated = [Mark(one.calibrated.date(), f"{one.name} calibrated", CALIBRATED) for one in log.all(Screen) if one.calibrated]
    installed = [Mark(one.installed.date(), f"new {ink_text(one.ink)}", INSTALLED) for one in log.all(Cartridge)]
    first = dt.date(1970, 1, 1) + dt.timedelta(days=int(points[0].day) - 31)
    last = dt.date(1970, 1, 1) + dt.timedelta(days=int(points[-1].day) + 31)
    within = [one for one in (*calibrated, *installed) if first <= one.day <= last]
    return tuple(sorted(within, key=lambda one: one.day))
