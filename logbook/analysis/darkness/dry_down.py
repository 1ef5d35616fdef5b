"""What drying does: the same print judged wet and judged dry, under the same light."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.rating import ROUNDING_STOPS
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval, from_normal
from logbook.analysis.numeric.student import student_quantile

FloatArray = NDArray[np.float64]
TextArray = NDArray[np.object_]

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


def dry_down(print_id: TextArray, darkness: FloatArray, hours_dry: FloatArray, light: TextArray) -> DryDown | None:
    """Compare the wettest and the driest judgement of each print; None where no print has both.

    One row a judgement, all (judgements,): ``darkness`` in thirds of a stop, ``hours_dry`` in hours. Only
    judgements under the same light are compared, for another light is another darkness.

    >>> ids, lights = np.array(["a", "a"], dtype=object), np.array(["wall", "wall"], dtype=object)
    >>> found = dry_down(ids, np.array([0.0, -1.0]), np.array([0.2, 24.0]), lights)
    >>> found.changes if found else None
    (-1,)
    """
    seen: dict[tuple[str, str | None], list[tuple[float, float]]] = {}
    known = _judged_again(print_id, np.asarray(np.isfinite(darkness) & np.isfinite(hours_dry)))
    for one, place, hours, thirds in zip(print_id[known], light[known], hours_dry[known], darkness[known], strict=True):
        seen.setdefault((one, place), []).append((float(hours), float(thirds)))
    pairs: dict[str, tuple[tuple[float, float], tuple[float, float]]] = {}
    for (one, _), judged in seen.items():
        wet, dry = min(judged), max(judged)
        if dry[0] - wet[0] >= LEAST_HOURS_BETWEEN:
            pairs.setdefault(one, (wet, dry))
    if not pairs:
        return None
    return _summary(list(pairs.values()))


def _judged_again(print_id: TextArray, known: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """Those of the ``known`` judgements whose print has more than one: few of many, which alone are looked at one by one."""
    once: set[str] = set()
    again: set[str] = set()
    for one in print_id[known]:
        (again if one in once else once).add(one)
    return known & np.fromiter((one in again for one in print_id), np.bool_, len(print_id))


def _summary(pairs: list[tuple[tuple[float, float], tuple[float, float]]]) -> DryDown:
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
