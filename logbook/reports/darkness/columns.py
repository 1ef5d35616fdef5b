"""The columns of the log that the darkness answer reads."""

from __future__ import annotations

from collections.abc import Mapping

import numpy as np

from logbook.analysis.darkness.judged import Again, Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.terms import MOST_NUMERIC_LEVELS, OF_THE_PICTURE
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Light, Paper, Screen
from logbook.records.settings import Settings
from logbook.reports.darkness.model import Names
from logbook.snapshot import Snapshot
from logbook.store import columns

Figures = Mapping[str, Mapping[str, float]]


def counted(prints: columns.Prints) -> NDArray[np.bool_]:
    """Which prints count: judged with a darkness, and no test strip."""
    return np.asarray(np.isfinite(prints.darkness) & (prints.purpose != "strip"))


def blacks(log: Snapshot) -> dict[str, str]:
    """The black of every paper, by id."""
    return {one.id: one.black for one in log.all(Paper)}


def judged(prints: columns.Prints, mask: NDArray[np.bool_], black: Mapping[str, str], figures: Figures | None = None) -> Judged:
    """The counted prints as the analysis wants them, with the figures of their pictures as further slopes."""
    rating = np.rint(prints.darkness[mask]).astype(np.int64)
    settings = [one for one, kept in zip(prints.settings, mask, strict=True) if kept]
    if figures:
        nothing: Mapping[str, float] = {}
        of_picture = [figures.get(one, nothing) for one in prints.picture[mask]]
        told = {name for name in OF_THE_PICTURE if len({one.get(name) for one in of_picture} - {None}) > MOST_NUMERIC_LEVELS}
        if told:
            settings = _with_figures(settings, of_picture, told)
    needed = np.array([black.get(one) for one in prints.paper[mask]], dtype=object)
    places = prints.paper[mask], prints.screen[mask], prints.light[mask]
    return Judged(rating, *places, prints.picture[mask], needed, prints.day[mask], settings)


def _with_figures(settings: list[Settings], of_picture: list[Mapping[str, float]], told: set[str]) -> list[Settings]:
    """Each print's settings with the figures of its picture that are ``told``; prints alike in both share one object."""
    found: dict[tuple[int, int], Settings] = {}
    for one, known in zip(settings, of_picture, strict=True):
        if (id(one), id(known)) not in found:
            found[id(one), id(known)] = {**one, **{name: value for name, value in known.items() if name in told}}
    return [found[id(one), id(known)] for one, known in zip(settings, of_picture, strict=True)]


def picture_figures(log: Snapshot) -> Figures:
    """What inspections found of the pictures, by id: a dark picture may be seen darker whatever the settings."""
    return {
        id: {name: value for name in OF_THE_PICTURE if (value := getattr(line, name)) is not None}
        for id, line in log.pictures.items()
    }


def surroundings(log: Snapshot) -> Surroundings:
    """What is known of the lights, screens and papers."""
    return Surroundings(
        {one.id: one.illuminance_lx for one in log.all(Light) if one.illuminance_lx},
        {one.id: one.white_cd_m2 for one in log.all(Screen) if one.white_cd_m2},
        {one.id: one.white_y for one in log.all(Paper) if one.white_y},
    )


def names(log: Snapshot) -> Names:
    """Names of papers, screens and lights."""
    return Names(
        paper={one.id: one.name for one in log.all(Paper)},
        screen={one.id: one.name for one in log.all(Screen)},
        light={one.id: one.name for one in log.all(Light)},
    )


#: A print that was looked at this often, over this many days, is a reference: it shows the eye's drift and the lamp's.
FEWEST_LOOKS, REFERENCE_DAYS = 3, 60


def looks_again(log: Snapshot, prints: columns.Prints, mask: NDArray[np.bool_]) -> Again | None:
    """The further looks at kept prints that were judged again over months; None where there are none."""
    row_of = {id: row for row, id in enumerate(prints.id[mask])}
    seen = log.judgements
    looks: dict[str, list[int]] = {}
    for at, (id, darkness) in enumerate(zip(seen.print, seen.darkness, strict=True)):
        if id in row_of and np.isfinite(darkness):
            looks.setdefault(id, []).append(at)
    own = np.array(prints.day[mask])
    further: list[int] = []
    for id, times in looks.items():
        own[row_of[id]] = seen.day[times[-1]]
        if len(times) >= FEWEST_LOOKS and (seen.day[times[-1]] - seen.day[times[0]]).astype(int) >= REFERENCE_DAYS:
            further += times[:-1]
    if not further:
        return None
    rows = np.array([row_of[seen.print[at]] for at in further], dtype=np.int64)
    rating = np.rint(seen.darkness[further]).astype(np.int64)
    return Again(rows, rating, seen.light[further], np.asarray(seen.day[further]), own)
