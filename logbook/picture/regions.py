"""Connected regions of a black and white image, with their areas, middles and extents."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

_MOST_RUNS = 400_000  # a shot of noise has millions; a chart has thousands


@dataclass(frozen=True)
class Regions:
    """Arrays with one entry a region: ``area`` in pixels, middle (``x``, ``y``), extents (``right`` and ``bottom`` beyond)."""

    area: NDArray[np.float64]
    x: NDArray[np.float64]
    y: NDArray[np.float64]
    left: NDArray[np.int64]
    top: NDArray[np.int64]
    right: NDArray[np.int64]
    bottom: NDArray[np.int64]


def label_regions(ink: NDArray[np.bool_]) -> Regions:
    """The regions of True pixels that touch along an edge (runs of each row, joined by a disjoint-set forest).

    >>> found = label_regions(np.array([[1, 1, 0], [0, 0, 0], [0, 1, 1]], bool))
    >>> found.area.tolist(), found.x.tolist(), found.y.tolist()
    ([2.0, 2.0], [0.5, 1.5], [0.0, 2.0])
    """
    rows, starts, ends = _runs(ink)
    if len(rows) > _MOST_RUNS:
        rows, starts, ends = (part[:_MOST_RUNS] for part in (rows, starts, ends))
    root = _joined(rows, starts, ends)
    which, region = np.unique(root, return_inverse=True)
    length = (ends - starts).astype(float)
    area = np.bincount(region, length).astype(np.float64)

    def extreme(pick: "np.ufunc", values: NDArray[np.int64], start: int) -> NDArray[np.int64]:
        found = np.full(len(which), start, np.int64)
        pick.at(found, region, values)
        return found

    far = max(ink.shape) + 1
    return Regions(
        area=area,
        x=np.bincount(region, length * (starts + ends - 1) / 2) / np.maximum(area, 1),
        y=np.bincount(region, length * rows) / np.maximum(area, 1),
        left=extreme(np.minimum, starts, far),
        top=extreme(np.minimum, rows, far),
        right=extreme(np.maximum, ends, 0),
        bottom=extreme(np.maximum, rows + 1, 0),
    )


def _runs(ink: NDArray[np.bool_]) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.int64]]:
    """Row, first and one past the last column of every run of True, row by row."""
    edge = np.diff(np.pad(ink, ((0, 0), (1, 1))).astype(np.int8), axis=1)
    rows, starts = np.nonzero(edge == 1)
    ends = np.nonzero(edge == -1)[1]
    return rows.astype(np.int64), starts.astype(np.int64), ends.astype(np.int64)


def _joined(rows: NDArray[np.int64], starts: NDArray[np.int64], ends: NDArray[np.int64]) -> NDArray[np.int64]:
    """For each run the number of a run that stands for its region."""
    parent = list(range(len(rows)))

    def root(run: int) -> int:
        while parent[run] != run:
            parent[run] = parent[parent[run]]
            run = parent[run]
        return run

    row_list, start_list, end_list = rows.tolist(), starts.tolist(), ends.tolist()
    above = 0
    for run in range(len(row_list)):
        while row_list[above] < row_list[run] - 1 or (
            row_list[above] == row_list[run] - 1 and end_list[above] <= start_list[run]
        ):
            above += 1
        other = above
        while other < run and row_list[other] == row_list[run] - 1 and start_list[other] < end_list[run]:
            parent[root(other)] = root(run)
            other += 1
    return np.array([root(run) for run in range(len(parent))], np.int64)
