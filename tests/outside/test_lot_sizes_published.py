"""Published lot-size problems, solved by the machinery of the batch plan and of the standing rule.

- Twelve periods: Wagner, H. M. and Whitin, T. M. (1958), Management Science 5(1), 89-96, Table 1. The optimal cost was
  also found by trying all 2^11 plans.
- Four periods: Snyder, L. V. and Shen, Z.-J. M., Fundamentals of Supply Chain Theory, example 3.9.
- Economic order quantity: ibid., example 3.1 (K = 8, h = 0.225 a year, demand 1300 a year: Q = 304.05, cost 68.41).
"""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.batch.rule import Flow, standing_rule
from logbook.analysis.numeric.relative_value_iteration import Floats, relative_value_iteration
from logbook.analysis.numeric.staged_plan import FORBIDDEN, Stage, cheapest_way, way_from

DEMAND = [69, 29, 36, 61, 61, 26, 34, 67, 45, 67, 79, 56]
SET_UP = [85, 102, 102, 101, 98, 114, 105, 86, 119, 110, 98, 114]


def lots(demand: list[int], set_up: list[int], holding: int) -> tuple[int, dict[int, int]]:
    """Least cost, and the lot of each period (from 1) with one. A state is the number of periods that are covered."""
    periods = len(demand)
    states = np.arange(periods + 1)

    def stage(period: int) -> Stage:
        child = np.tile(states, (periods + 1, 1))
        cost = np.full(child.shape, FORBIDDEN, dtype=np.int64)
        cost[0, states > period] = 0
        for upto in range(period + 1, periods + 1):
            kept = sum((later - period) * demand[later] for later in range(period, upto))
            child[upto, period], cost[upto, period] = upto, set_up[period] + holding * kept
        return Stage(child, cost, np.zeros_like(cost))

    final = np.where(states == periods, 0, FORBIDDEN)
    solution = cheapest_way(stage, periods, final)
    way = [0, *(state for _, state in way_from(solution, lambda period: stage(period).child, 0))]
    return int(solution.cost[0]), {
        period + 1: sum(demand[way[period] : way[period + 1]]) for period in range(periods) if way[period] != way[period + 1]
    }


def test_wagner_and_whitins_twelve_periods() -> None:
    assert lots(DEMAND, SET_UP, 1) == (864, {1: 98, 3: 97, 5: 121, 8: 112, 10: 67, 11: 135})


@pytest.mark.parametrize(("periods", "cost"), list(enumerate([85, 114, 186, 277, 348, 400, 469, 555, 600, 710, 789, 864], 1)))
def test_wagner_and_whitins_costs_of_the_first_periods(periods: int, cost: int) -> None:
    assert lots(DEMAND[:periods], SET_UP[:periods], 1)[0] == cost


def test_four_periods_of_the_textbook() -> None:
    assert lots([90, 120, 80, 70], [500] * 4, 2) == (1380, {1: 210, 3: 150})


def test_the_economic_order_quantity_as_a_decision_process() -> None:
    """Demand comes one lot of eight at a time, so that the best order is 38 lots, 304 of the 304.05."""
    order, hold, lots_a_year, most = 8.0, 0.225 * 8, 1300 / 8, 60
    stock = np.arange(1, most + 1)

    def improve(value: Floats) -> Floats:
        carrying = hold * (stock - 0.5) / lots_a_year + value[:-1]
        return np.concatenate([[order + carrying.min()], carrying])

    found = relative_value_iteration(improve, np.zeros(most + 1), tolerance=1e-6, taken=0.5, most_steps=200_000)
    assert found.settled
    assert found.cost * lots_a_year == pytest.approx(68.4105, abs=0.001)
    best = int(np.argmin(hold * (stock - 0.5) / lots_a_year + found.value[:-1])) + 1
    assert best * 8 == 304


def test_the_standing_rule_in_large_volumes_is_the_economic_order_quantity() -> None:
    """With room for everything each changeover fetches one black's whole backlog: a lot of Q = sqrt(2 K demand / h).

    A waiting print stands for eight of the example's units, and a year has 325 bench days, so that a lot gathers over
    many of them. The backlog grows by whole prints, which costs half a print's waiting less than the smooth backlog.
    """
    days, exchange, wait = 325, 8.0, 0.225 * 8
    per_day = 1300 / 8 / days
    rule = standing_rule(Flow(per_day, per_day, (10_000, 10_000), (10_000, 10_000), exchange, exchange, wait / days))
    assert rule is not None
    assert rule.average_cost * days == pytest.approx(68.4105 - wait / 2, rel=0.01)
    assert rule.curve("matte")[0] == pytest.approx(304.05 / 8, abs=1.5)
