"""The curve that goes through typed points where an editor draws a natural cubic spline."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray


def natural_spline(points: Mapping[int, int], at: NDArray[np.float64]) -> NDArray[np.float64]:
    """Values at ``at`` (within the points) of the cubic spline through ``points`` without curvature at its ends.

    Second derivatives from the tridiagonal system of de Boor, A Practical Guide to Splines (1978), chapter IV.

    >>> natural_spline({0: 0, 1: 1, 2: 0}, np.array([0.5])).round(4).tolist()
    [0.6875]
    """
    x = np.array(sorted(points), float)
    y = np.array([points[int(one)] for one in x], float)
    gap, slope = np.diff(x), np.diff(y) / np.diff(x)
    system = np.eye(len(x))
    for row in range(1, len(x) - 1):
        system[row, row - 1 : row + 2] = gap[row - 1], 2 * (gap[row - 1] + gap[row]), gap[row]
    bend = np.linalg.solve(system, np.concatenate([[0.0], 6 * np.diff(slope), [0.0]]))
    piece = np.clip(np.searchsorted(x, at, side="right") - 1, 0, len(gap) - 1)
    left, right, width = at - x[piece], x[piece + 1] - at, gap[piece]
    cubic = (bend[piece] * right**3 + bend[piece + 1] * left**3) / (6 * width)
    straight = (y[piece] / width - bend[piece] * width / 6) * right + (y[piece + 1] / width - bend[piece + 1] * width / 6) * left
    found: NDArray[np.float64] = cubic + straight
    return found
