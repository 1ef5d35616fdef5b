"""The judged prints as the model reads them, and what a rating says."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.rating import EXTREME
from logbook.analysis.numeric.arrays import NDArray

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
TextArray = NDArray[np.object_]

#: A rating of -1 third or less is darker: the seen difference lies below this many stops.
DARKER_BELOW = -0.5 / 3
#: Where at least this share of all ratings is the outermost one ever given on a side, the person's scale ends there.
OWN_END_FROM = 0.03


@dataclass(frozen=True)
class Again:
    """Further looks at kept prints, made months later: they tell the eye's drift, and the lamp's, from the printer's.

    ``row`` is the judged print's, ``rating``, ``light`` and ``day`` the look's own, all (looks,); ``seen`` is the day on which
    each judged print's own judgement was made, (prints,).
    """

    row: IntArray
    rating: IntArray
    light: TextArray
    day: NDArray[np.datetime64]
    seen: NDArray[np.datetime64]


@dataclass(frozen=True)
class Judged:
    """The judged prints in time order, all columns (prints,): ``rating`` in thirds of a stop, ids, the day printed
    (datetime64[D]), the black of the paper, one map of settings each."""

    rating: IntArray
    paper: TextArray
    screen: TextArray
    light: TextArray
    picture: TextArray
    black: TextArray
    day: NDArray[np.datetime64]
    settings: list[dict[str, str | bool | int | float]]
    again: Again | None = None

    def __len__(self) -> int:
        return len(self.rating)


def rating_bounds(rating: IntArray) -> tuple[FloatArray, FloatArray]:
    """What the ratings say of the seen differences, in stops: each lies in (low, high].

    The scale is open beyond its last step; for somebody who never goes as far it is open beyond their own.

    >>> [part.tolist() for part in rating_bounds(np.array([-6, 0, 2, 2]))]
    [[-inf, -0.16666666666666666, 0.5, 0.5], [-1.8333333333333333, 0.16666666666666666, inf, inf]]
    """
    last, first = int(rating.max(initial=0)), int(rating.min(initial=0))
    lighter_end = last if last > 0 and (rating == last).mean() >= OWN_END_FROM else EXTREME
    darker_end = first if first < 0 and (rating == first).mean() >= OWN_END_FROM else -EXTREME
    low = np.where(rating <= darker_end, -np.inf, (rating - 0.5) / 3)
    high = np.where(rating >= lighter_end, np.inf, (rating + 0.5) / 3)
    return low, high
