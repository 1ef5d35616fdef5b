"""The standing rule against a second implementation: the linear programme of the same decision process.

Manne, A. S. (1960), Linear programming and sequential decisions, Management Science 6(3), 259-267; in Puterman (1994),
Markov Decision Processes, section 8.8. Its variables are how often each decision is made in each state; scipy's HiGHS
solves it. The grid is small and keeps what would leave it on its edge, as the rule's own does.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from scipy import optimize, sparse, stats

from logbook.analysis.batch.rule import Flow, _Grid
from logbook.analysis.numeric.relative_value_iteration import relative_value_iteration

MOST = 9
FLOWS = {
    "usual": Flow(0.8, 0.5, (4, 4), (2, 2), 9.0, 8.0, 0.5),
    "one black comes far more often": Flow(1.6, 0.2, (4, 4), (3, 3), 5.0, 7.0, 0.5),
    "a photo print takes more attempts": Flow(0.8, 0.5, (5, 3), (3, 1), 9.0, 8.0, 0.5),
    "no time is left beside an exchange": Flow(0.6, 0.6, (3, 3), (0, 0), 2.0, 2.0, 1.0),
}


def arrivals(mean: float, waiting: int) -> dict[int, float]:
    """Chances of the numbers that wait after a night."""
    chance = {waiting + count: float(stats.poisson.pmf(count, mean)) for count in range(MOST - waiting)}
    return {**chance, MOST: 1 - sum(chance.values())}


def step(flow: Flow, state: tuple[int, int, int], exchange: bool) -> tuple[float, dict[tuple[int, int, int], float]]:
    """What one bench day costs, and the chances of the state after it."""
    black, *waiting = state
    cost = (flow.cost_to_photo if black == 0 else flow.cost_to_matte) if exchange else 0.0
    loaded = 1 - black if exchange else black
    waiting[loaded] -= min(waiting[loaded], (flow.room_after_exchange if exchange else flow.room)[loaded])
    cost += flow.waiting_cost * sum(waiting)
    nights = itertools.product(arrivals(flow.matte_per_day, waiting[0]).items(), arrivals(flow.photo_per_day, waiting[1]).items())
    return cost, {(loaded, matte, photo): one * other for (matte, one), (photo, other) in nights}


def least_average_cost(flow: Flow) -> float:
    """Least average cost by the linear programme."""
    states = list(itertools.product((0, 1), range(MOST + 1), range(MOST + 1)))
    place = {state: number for number, state in enumerate(states)}
    costs: list[float] = []
    balance = sparse.lil_matrix((len(states) + 1, 2 * len(states)))
    for column, (state, exchange) in enumerate(itertools.product(states, (False, True))):
        cost, after = step(flow, state, exchange)
        costs.append(cost)
        balance[len(states), column] = 1.0
        balance[place[state], column] += 1.0
        for following, chance in after.items():
            balance[place[following], column] -= chance
    found = optimize.linprog(costs, A_eq=balance.tocsr(), b_eq=[0.0] * len(states) + [1.0], method="highs")
    assert found.success, found.message
    return float(found.fun)


@pytest.mark.parametrize("name", FLOWS)
def test_the_average_cost_is_that_of_the_linear_programme(name: str) -> None:
    flow = FLOWS[name]
    found = relative_value_iteration(_Grid(flow, MOST).improve, np.zeros((2, MOST + 1, MOST + 1)), tolerance=1e-9)
    assert found.settled
    assert found.cost == pytest.approx(least_average_cost(flow), abs=1e-6)
