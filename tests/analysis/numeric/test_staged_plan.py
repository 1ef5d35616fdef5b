"""Backward recursion over stages."""

import numpy as np
import pytest

from logbook.analysis.numeric.staged_plan import FORBIDDEN, Stage, cheapest_way, way_from


def stage(child: list[list[int]], cost: list[list[int]], tie: list[list[int]] | None = None) -> Stage:
    ties = np.array(tie, dtype=np.int64) if tie is not None else np.zeros(np.shape(cost), dtype=np.int64)
    return Stage(np.array(child), np.array(cost, dtype=np.int64), ties)


def test_the_cheaper_way_is_taken_even_where_it_begins_dearer() -> None:
    step = stage([[0, 1], [1, 0]], [[5, 1], [7, 9]])
    solution = cheapest_way(lambda _: step, 3, np.zeros(2, dtype=np.int64))
    assert solution.cost.tolist() == [9, 3]
    assert way_from(solution, lambda _: step.child, 0) == [(1, 1), (0, 1), (0, 1)]


def test_of_equal_ways_the_one_with_the_smaller_tie_is_taken() -> None:
    step = stage([[0], [0], [0]], [[4], [3], [3]], [[0], [2], [1]])
    solution = cheapest_way(lambda _: step, 1, np.zeros(1, dtype=np.int64))
    assert (solution.cost[0], solution.tie[0], solution.choice[0, 0]) == (3, 1, 2)


def test_a_state_from_which_nothing_leads_on_stays_forbidden_over_many_stages() -> None:
    step = stage([[0, 1]], [[FORBIDDEN, 1]])
    solution = cheapest_way(lambda _: step, 50, np.array([0, FORBIDDEN], dtype=np.int64))
    assert (solution.cost == FORBIDDEN).all()


@pytest.mark.parametrize("watched", [[0, 0], [1, 0]])
def test_the_watched_options_are_reported_with_their_best_continuation(watched: list[int]) -> None:
    step = stage([[0, 1], [1, 0]], [[5, 1], [7, 9]])
    solution = cheapest_way(lambda _: step, 2, np.zeros(2, dtype=np.int64), watched)
    then = cheapest_way(lambda _: step, 1, np.zeros(2, dtype=np.int64)).cost
    assert solution.watched[0][0].tolist() == [
        step.cost[option, watched[0]] + then[step.child[option, watched[0]]] for option in (0, 1)
    ]
