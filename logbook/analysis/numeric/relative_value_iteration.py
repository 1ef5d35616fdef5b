"""The least average cost per step of a Markov decision process, by relative value iteration.

White, D. J. (1963), Journal of Mathematical Analysis and Applications 6(3), 373-376; bounds on the average cost from
the smallest and the largest increment: Odoni, A. R. (1969), Operations Research 17(5), 857-860; a step that is only
partly taken makes a periodic process converge: Schweitzer, P. J. (1971), Journal of Mathematical Analysis and
Applications 34(3), 495-501.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.records import long_work

__all__ = ["AverageCost", "relative_value_iteration"]

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class AverageCost:
    """The least average cost per step, which lies between ``low`` and ``high``, and the relative values of the states.

    ``settled`` is False where the bounds were still too far apart after the last step allowed.
    """

    low: float
    high: float
    value: Floats
    steps: int
    settled: bool

    @property
    def cost(self) -> float:
        """Middle of the bounds."""
        return (self.low + self.high) / 2


def relative_value_iteration(
    improve: Callable[[Floats], Floats],
    start: Floats,
    *,
    tolerance: float,
    most_steps: int = 20_000,
    taken: float = 1.0,
) -> AverageCost:
    """Iterate ``improve`` (the least cost of one step and of the values after it) until the bounds are close.

    ``start`` are first values, of any shape; ``tolerance`` is the distance of the bounds, in units of cost;
    ``taken`` (over 0, up to 1) is the part of each step that is taken, below 1 for a periodic process.

    Two states that follow one another, of cost 0 and 4:

    >>> found = relative_value_iteration(lambda value: np.array([0.0, 4.0]) + value[::-1], np.zeros(2),
    ...                                  tolerance=1e-9, taken=0.5)
    >>> round(found.cost, 6), found.settled
    (2.0, True)
    """
    if not 0 < taken <= 1:
        raise ValueError("taken: lies above 0 and up to 1")
    value = start
    low = high = float("nan")
    for step in range(1, most_steps + 1):
        long_work.step()
        improved = improve(value)
        increment = improved - value
        low, high = float(increment.min()), float(increment.max())
        value = improved if taken == 1 else value + taken * increment
        value = value - value.flat[0]
        if high - low <= tolerance:
            return AverageCost(low, high, value, step, True)
    return AverageCost(low, high, value, most_steps, False)
