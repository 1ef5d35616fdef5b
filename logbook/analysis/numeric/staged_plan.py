"""The cheapest way through stages: finite-horizon dynamic programming by backward recursion.

Bellman, R. (1957), Dynamic Programming, Princeton University Press. Costs are whole numbers, so that equal costs are
equal; among ways of equal cost the one with the smallest sum of ``tie`` is taken, and among those the first option.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

__all__ = ["FORBIDDEN", "Solution", "Stage", "cheapest_way", "way_from"]

Ints = NDArray[np.int64]

#: The cost of what cannot be done. Twice as much still fits 64 bits.
FORBIDDEN = 2**61


class Stage(NamedTuple):
    """What can be done at one stage; each array has the shape (options, states).

    ``child`` is the index of the state that follows, ``cost`` what it costs (0 up to ``FORBIDDEN``), ``tie`` what it
    adds to the second measure (from 0; the sum over all stages must stay below 2**62).
    """

    child: NDArray[np.intp]
    cost: Ints
    tie: Ints


class Solution(NamedTuple):
    """The best option at every stage and state, and what the rest then costs.

    ``choice`` has the shape (stages, states); ``cost`` and ``tie`` (states,) hold from the first stage on;
    ``watched`` holds for each stage the cost and the tie of every option, with the best continuation, at its watched state.
    """

    choice: NDArray[np.int32]
    cost: Ints
    tie: Ints
    watched: list[tuple[Ints, Ints]]


def cheapest_way(stage: Callable[[int], Stage], stages: int, final_cost: Ints, watched: Sequence[int] | None = None) -> Solution:
    """Solve backwards over ``stages`` stages; ``final_cost`` (states,) is paid after the last.

    ``watched`` names one state per stage whose options are to be reported.

    >>> step = Stage(np.array([[0, 1], [1, 1]]), np.array([[5, 0], [7, 9]]), np.zeros((2, 2), dtype=np.int64))
    >>> cheapest_way(lambda _: step, 2, np.array([FORBIDDEN, 0])).cost.tolist()
    [7, 0]
    """
    cost, tie = final_cost.astype(np.int64), np.zeros(len(final_cost), dtype=np.int64)
    choice = np.zeros((stages, len(cost)), dtype=np.int32)
    seen: list[tuple[Ints, Ints]] = []
    for number in range(stages - 1, -1, -1):
        offered = stage(number)
        costs = np.minimum(offered.cost + cost[offered.child], FORBIDDEN)
        ties = offered.tie + tie[offered.child]
        if watched is not None:
            seen.append((costs[:, watched[number]].copy(), ties[:, watched[number]].copy()))
        cost = costs.min(axis=0)
        ties[costs > cost] = 2**62
        choice[number] = ties.argmin(axis=0)
        tie = np.where(cost < FORBIDDEN, ties.min(axis=0), 0)
    return Solution(choice, cost, tie, seen[::-1])


def way_from(solution: Solution, child: Callable[[int], NDArray[np.intp]], start: int, at: int = 0) -> list[tuple[int, int]]:
    """The options taken from the state ``start`` at stage ``at`` on, each with the state it leads to; one pair a stage.

    ``child`` gives the states that follow at a stage, as in ``Stage``.

    >>> step = Stage(np.array([[0, 1], [1, 1]]), np.array([[5, 0], [7, 9]]), np.zeros((2, 2), dtype=np.int64))
    >>> way_from(cheapest_way(lambda _: step, 2, np.array([FORBIDDEN, 0])), lambda _: step.child, 0)
    [(1, 1), (0, 1)]
    """
    way: list[tuple[int, int]] = []
    state = start
    for number in range(at, len(solution.choice)):
        option = int(solution.choice[number, state])
        state = int(child(number)[option, state])
        way.append((option, state))
    return way
