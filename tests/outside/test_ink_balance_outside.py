"""The ink balance against two other ways to solve it.

Bounded least squares is scipy's `lsq_linear` (Branch, Coleman and Li 1999, SIAM J. Sci. Comput. 21, 1-23). The state-space
filter is statsmodels' (Durbin and Koopman, Time Series Analysis by State Space Methods, 2nd ed. 2012, ch. 4 and sect. 6.2):
the ink gone since the start walks at random from reading to reading and is seen with the gauge's rounding as noise, the rates
are regression coefficients estimated in the state.
"""

from __future__ import annotations

import numpy as np
import pytest
from scipy.optimize import lsq_linear
from statsmodels.tsa.statespace.mlemodel import MLEModel

from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.draws import IDLE
from logbook.analysis.numeric.random_walk import Run, accumulated, reduced, whitened
from logbook.analysis.numeric.truncated import truncated_normal
from tests.analysis.ink.hand import MATTE, Hand

RATES = np.array([1.3, 0.09, 5.0])  # a square metre, a day, a changeover
WALK, ROUNDING = 0.11, 1.1  # variance of a square metre's walk, of a reading


@pytest.fixture(scope="module")
def run() -> Run:
    """Fifty weeks of readings of one cartridge: area, days and changeovers drawn up to each, errors as the model has them."""
    rng = np.random.default_rng(7)
    steps = np.column_stack([rng.gamma(3.0, 1.0, 50), np.full(50, 7.0), rng.random(50) < 0.15])
    walked = rng.normal(0.0, np.sqrt(WALK * steps[:, 0]))
    design, variance = np.cumsum(steps, axis=0), np.cumsum(steps[:, 0])
    observed = design @ RATES + np.cumsum(walked) + rng.normal(0.0, np.sqrt(ROUNDING), 50)
    return Run(design, observed, ROUNDING * np.eye(50), accumulated(variance))


class Balance(MLEModel):  # type: ignore[misc]  # statsmodels has no types
    """Gone ink as a random walk with known steps, rates as states that never change."""

    def __init__(self, run: Run) -> None:
        steps = np.diff(np.diag(run.walk), prepend=0.0)
        super().__init__(run.observed, k_states=4, k_posdef=1, initialization="approximate_diffuse")
        design = np.column_stack([np.ones(len(run.observed)), run.design]).T[None]
        self["design"], self["transition"], self["selection", 0, 0] = design, np.eye(4), 1.0
        self["obs_cov"] = np.array([[ROUNDING]])
        # The step into a reading is made on the way to it: the first one lies in the initial state.
        self["state_cov"] = (WALK * np.append(steps[1:], 0.0))[None, None]
        first = np.array([WALK * steps[0], 1e6, 1e6, 1e6])
        self.ssm.initialize_known(np.zeros(4), np.diag(first))


def test_a_state_space_filter_finds_the_same_rates_as_sure_as_they_are(run: Run) -> None:
    data = reduced(whitened([run]), WALK)
    ours = np.linalg.solve(data.triangle, data.target)
    inverse = np.linalg.inv(data.triangle)
    filtered = Balance(run).ssm.filter()
    assert filtered.filtered_state[1:, -1] == pytest.approx(ours, rel=1e-4)
    assert filtered.filtered_state_cov[1:, 1:, -1] == pytest.approx(inverse @ inverse.T, rel=1e-3)


def test_draws_that_can_not_be_below_0_lie_about_the_bounded_estimate(run: Run) -> None:
    """With an idle rate that the data put below 0, the draws of the others gather where `lsq_linear` has its best fit."""
    data = reduced(whitened([run]), WALK)
    target = data.target - data.triangle @ np.array([0.0, 0.35, 0.0])  # as if the printer gave ink back
    inverse = np.linalg.inv(data.triangle)
    bounded = lsq_linear(data.triangle, target, bounds=(0.0, np.inf)).x
    free = inverse @ target
    assert free[1] < 0.0
    assert bounded[1] == pytest.approx(0.0, abs=1e-9)
    drawn = truncated_normal(free, inverse @ inverse.T, np.ones(3, dtype=bool), 4_000, np.random.default_rng(3))
    assert np.all(drawn >= 0.0)
    # The draw of greatest density is the bounded estimate; the mean lies off the bound by less than a standard deviation.
    misfit = np.sum((drawn @ data.triangle.T - target) ** 2, axis=1)
    best = np.sum((data.triangle @ bounded - target) ** 2)
    assert np.min(misfit) == pytest.approx(best, abs=0.1)
    assert np.all(np.abs(drawn.mean(axis=0) - bounded) < drawn.std(axis=0) * 1.5)


def test_rejection_gives_the_same_moments_as_our_draws(run: Run) -> None:
    """Draws of the unbounded normal, those below 0 thrown away (scipy and numpy know no other exact way)."""
    data = reduced(whitened([run]), WALK)
    inverse = np.linalg.inv(data.triangle)
    mean = inverse @ data.target - np.array([0.0, 0.08, 0.0])
    rng = np.random.default_rng(5)
    every = rng.multivariate_normal(mean, inverse @ inverse.T, 200_000)
    kept = every[np.all(every >= 0.0, axis=1)]
    drawn = truncated_normal(mean, inverse @ inverse.T, np.ones(3, dtype=bool), 20_000, rng)
    assert drawn.mean(axis=0) == pytest.approx(kept.mean(axis=0), abs=0.05 * kept.std(axis=0).max())
    assert drawn.std(axis=0) == pytest.approx(kept.std(axis=0), rel=0.05)


def test_a_log_by_hand_is_solved_as_by_bounded_least_squares() -> None:
    """Levels typed exactly: the balance has one answer, a square metre and a day of an ink alike to the millilitre."""
    hand = Hand("cyan")
    hand.cartridge("cyan", ml=500.0)
    rows, gone, total = [], [], 0.0
    for day in range(30):
        area = 1.0 + day % 4
        hand.print(24 * day + 9, area)
        total += area
        rows.append(np.array([total, day + 0.75]))  # read at six in the evening
        gone.append(float(rows[-1] @ (2.0, 0.5)))
        hand.read(24 * day + 18, cyan=round(100.0 - gone[-1] / 5.0, 6))
    found = fit_inks(hand.log()).fits["cyan"]
    bounded = lsq_linear(np.array(rows), np.array(gone), bounds=(0.0, np.inf)).x
    assert [found.rate(MATTE), found.rate(IDLE)] == pytest.approx(bounded, rel=0.02)
