"""The columns of the log that the darkness answer reads."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from logbook.analysis.darkness import Judged
from logbook.analysis.light import Surroundings
from logbook.records import Light, Paper, Screen
from logbook.reports.darkness_model import Names
from logbook.store import Store, columns, reading


def counted(prints: columns.Prints) -> NDArray[np.bool_]:
    """Which prints count: judged with a darkness, and no test strip."""
    return np.asarray(np.isfinite(prints.darkness) & (prints.purpose != "strip"))


def judged(prints: columns.Prints, mask: NDArray[np.bool_]) -> Judged:
    """The counted prints as the analysis wants them."""
    rating = np.rint(prints.darkness[mask]).astype(np.int64)
    settings = [one for one, kept in zip(prints.settings, mask, strict=True) if kept]
    return Judged(rating, prints.paper[mask], prints.screen[mask], prints.light[mask], settings)


def surroundings(store: Store) -> Surroundings:
    """What is known of the lights, screens and papers."""
    return Surroundings(
        {one.id: one.illuminance_lx for one in reading.every(store, Light) if one.illuminance_lx},
        {one.id: one.white_cd_m2 for one in reading.every(store, Screen) if one.white_cd_m2},
        {one.id: one.white_y for one in reading.every(store, Paper) if one.white_y},
    )


def names(store: Store) -> Names:
    """Names of papers, screens and lights."""
    return Names(
        paper={one.id: one.name for one in reading.every(store, Paper)},
        screen={one.id: one.name for one in reading.every(store, Screen)},
        light={one.id: one.name for one in reading.every(store, Light)},
    )
