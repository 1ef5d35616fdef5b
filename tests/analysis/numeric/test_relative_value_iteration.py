"""Least average cost of a Markov decision process."""

import numpy as np
import pytest

from logbook.analysis.numeric.relative_value_iteration import Floats, relative_value_iteration

CHANCES = np.array([[[0.7, 0.3], [0.4, 0.6]], [[0.2, 0.8], [0.9, 0.1]]])
COSTS = np.array([[2.0, 5.0], [3.0, 4.5]])


def improve(value: Floats) -> Floats:
    return np.asarray((COSTS + CHANCES @ value).min(axis=0))


def average_of(policy: tuple[int, int]) -> float:
    """Average cost of one policy from its stationary distribution."""
    matrix = np.array([CHANCES[policy[0], 0], CHANCES[policy[1], 1]])
    share = matrix[1, 0] / (matrix[0, 1] + matrix[1, 0])
    return float(share * COSTS[policy[0], 0] + (1 - share) * COSTS[policy[1], 1])


def test_the_average_cost_is_that_of_the_best_of_all_policies() -> None:
    found = relative_value_iteration(improve, np.zeros(2), tolerance=1e-10)
    assert found.settled
    assert found.cost == pytest.approx(min(average_of((one, two)) for one in (0, 1) for two in (0, 1)), abs=1e-9)


def test_the_bounds_hold_the_average_cost_even_before_it_has_settled() -> None:
    best = relative_value_iteration(improve, np.zeros(2), tolerance=1e-10).cost
    early = relative_value_iteration(improve, np.zeros(2), tolerance=0.0, most_steps=2)
    assert not early.settled
    assert early.low <= best <= early.high


def test_a_periodic_process_settles_only_when_a_part_of_each_step_is_taken() -> None:
    swap = lambda value: np.array([0.0, 4.0]) + value[::-1]  # noqa: E731  one line reads best here
    assert not relative_value_iteration(swap, np.zeros(2), tolerance=1e-9, most_steps=500).settled
    assert relative_value_iteration(swap, np.zeros(2), tolerance=1e-9, taken=0.5).cost == pytest.approx(2.0)


@pytest.mark.parametrize("taken", [0.0, -1.0, 1.5])
def test_a_part_outside_its_range_is_refused(taken: float) -> None:
    with pytest.raises(ValueError, match="taken"):
        relative_value_iteration(improve, np.zeros(2), tolerance=1e-9, taken=taken)


def test_no_more_steps_are_made_than_allowed() -> None:
    made = []

    def improve(value: Floats) -> Floats:
        made.append(1)
        return np.array([0.0, 4.0]) + value[::-1]

    found = relative_value_iteration(improve, np.zeros(2), tolerance=1e-9, most_steps=3)
    assert (len(made), found.steps, found.settled) == (3, 3, False)


def test_the_bounds_hold_the_cost_and_the_values_are_relative_to_the_first_state() -> None:
    """By hand, one whole step from nothing: increments 3 and 7, values 0 and 4 beside the first state's."""
    found = relative_value_iteration(lambda value: np.array([3.0, 7.0]) + value[::-1], np.zeros(2), tolerance=1e-9, most_steps=1)
    assert (found.low, found.high, found.cost) == (3.0, 7.0, 5.0)
    assert found.value.tolist() == [0.0, 4.0]


def test_bounds_as_close_as_asked_for_are_close_enough() -> None:
    found = relative_value_iteration(lambda value: np.array([0.0, 4.0]) + value[::-1], np.zeros(2), tolerance=4.0)
    assert (found.steps, found.settled) == (1, True)
