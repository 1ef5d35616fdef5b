"""What looking at a print again tells: what drying does, and how far one look differs from the next."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.rating import ROUNDING_STOPS
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval, from_normal
from logbook.analysis.numeric.student import student_quantile

FloatArray = NDArray[np.float64]
TextArray = NDArray[np.object_]
Look = tuple[float, float]
"""Hours dry, and the darkness in thirds of a stop."""

#: Two judgements tell of drying when at least this many hours lie between them (common practice, no source).
LEAST_HOURS_BETWEEN = 1.0


@dataclass(frozen=True)
class DryDown:
    """Change of darkness from wet to dry, mean over ``prints`` in stops; ``change_stops`` is None for one print.

    ``wet_hours`` and ``dry_hours`` are the means of when the two were judged; ``changes`` are the single
    differences, in thirds of a stop.
    """

    prints: int
    change_stops: Interval | None
    wet_hours: float
    dry_hours: float
    changes: tuple[int, ...]


#: Fewer prints than this judged twice give no spread of a look worth a number.
FEWEST_TWICE = 8


@dataclass(frozen=True)
class Looks:
    """All judgements in time order, one row each: the print, the light, the day the print was made, the
    hours it had dried (NaN where not noted), and the darkness in thirds of a stop."""

    print: TextArray
    light: TextArray
    day: TextArray
    hours_dry: FloatArray
    darkness: FloatArray

    def by_print_and_light(self, timed: bool = False) -> dict[tuple[str, str | None], list[Look]]:
        """The looks at each print in one light; only those with known hours where ``timed``."""
        out: dict[tuple[str, str | None], list[Look]] = defaultdict(list)
        for one, place, hours, thirds in zip(self.print, self.light, self.hours_dry, self.darkness, strict=True):
            if np.isfinite(thirds) and (np.isfinite(hours) or not timed):
                out[one, place].append((float(hours), float(thirds)))
        return out


def dry_down(looks: Looks) -> DryDown | None:
    """Compare the wettest and the driest judgement of each print; None where no print tells.

    Only days count on which every print that was judged was judged again: a print looked at again because it was
    unwelcome comes out better the second time by chance alone.

    >>> looks = Looks(*(np.array([one, one], dtype=object) for one in ("a", "wall", 1)), np.array([0.2, 24]), np.array([0.0, -1]))
    >>> found = dry_down(looks)
    >>> found.changes if found else None
    (-1,)
    """
    pairs: dict[str, tuple[Look, Look]] = {}
    for (one, _), judged in looks.by_print_and_light(timed=True).items():
        wet, dry = min(judged), max(judged)
        if dry[0] - wet[0] >= LEAST_HOURS_BETWEEN:
            pairs.setdefault(one, (wet, dry))
    once = {day for one, day in zip(looks.print, looks.day, strict=True) if one not in pairs}
    day_of = dict(zip(looks.print, looks.day, strict=True))
    told = [pair for one, pair in pairs.items() if day_of[one] not in once]
    return _summary(told) if told else None


def look_spread(looks: Looks) -> tuple[Interval, int] | None:
    """How far one look at a print differs from the next in the same light (a standard deviation, in stops), of how many prints.

    None where too few were judged twice. The first two looks are compared; the interval is that of a chi-square (Wilson &
    Hilferty 1931, PNAS 17, 684-688).
    """
    twice = [judged[:2] for judged in looks.by_print_and_light().values() if len(judged) > 1]
    if len(twice) < FEWEST_TWICE:
        return None
    square = float(np.mean([(second[1] - first[1]) ** 2 / 18 for first, second in twice]))  # half, and thirds to stops
    part = 2 / (9 * len(twice))
    ends = [square / (1 - part + z * np.sqrt(part)) ** 3 for z in (Z90, -Z90)]
    value, low, high = (float(np.sqrt(max(one - ROUNDING_STOPS**2, 0.0))) for one in (square, *ends))
    return Interval(value, low, high), len(twice)


def _summary(pairs: list[tuple[Look, Look]]) -> DryDown:
    table = np.array(pairs)
    changes = table[:, 1, 1] - table[:, 0, 1]
    wet, dry = table[:, :, 0].mean(axis=0)
    return DryDown(len(pairs), _mean_change(changes / 3), float(wet), float(dry), tuple(int(one) for one in changes))


def _mean_change(stops: FloatArray) -> Interval | None:
    """Mean with Student's interval; two readings in thirds leave a variance of at least that of their rounding."""
    if len(stops) < 2:
        return None
    square = max(float(stops.var(ddof=1)), 2 * ROUNDING_STOPS**2)
    return from_normal(float(stops.mean()), float(np.sqrt(square / len(stops))), student_quantile(len(stops) - 1))
