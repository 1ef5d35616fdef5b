"""The likelihood between bounds: its derivatives, its tails, and what a row was bound to tell."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.numeric.grouped import Derivatives, derivatives, expected_weight, log_likelihood

LOW = np.array([-np.inf, -0.5, -1 / 6, 1 / 6, 1.8333])
HIGH = np.array([-1.8333, -1 / 6, 1 / 6, 0.5, np.inf])
ETA = np.array([-1.5, 0.4, 0.0, -0.2, 1.0])
S, STEP = -1.2, 1e-5


def _at(eta: float = 0.0, s: float = 0.0) -> Derivatives:
    return derivatives(ETA + eta, S + s, LOW, HIGH)


@pytest.mark.parametrize(
    ("name", "by_eta", "of", "sign"),
    [
        ("by_eta", True, "loglik", 1),
        ("weight", True, "by_eta", -1),
        ("by_s", False, "loglik", 1),
        ("by_eta_s", False, "by_eta", 1),
        ("by_s_s", False, "by_s", 1),
        ("weight_by_s", False, "weight", 1),
    ],
)
def test_each_derivative_equals_a_difference(name: str, by_eta: bool, of: str, sign: int) -> None:
    ahead = _at(eta=STEP) if by_eta else _at(s=STEP)
    behind = _at(eta=-STEP) if by_eta else _at(s=-STEP)
    slope = sign * (getattr(ahead, of) - getattr(behind, of)) / (2 * STEP)
    np.testing.assert_allclose(getattr(_at(), name), slope, atol=1e-7)


def test_chances_of_all_outcomes_sum_to_one() -> None:
    edges = np.concatenate([[-np.inf], (np.arange(-6, 6) + 0.5) / 3, [np.inf]])
    chance = np.exp(log_likelihood(np.full(13, 0.1), -1.5, edges[:-1], edges[1:]))
    assert chance.sum() == pytest.approx(1.0)


def test_far_tails_stay_finite_and_ordered() -> None:
    far = log_likelihood(np.array([50.0, 500.0]), -2.0, np.array([0.0, 0.0]), np.array([0.3, 0.3]))
    assert np.isfinite(far).all()
    assert far[1] < far[0] < -100


def test_the_expected_weight_is_the_mean_over_outcomes() -> None:
    edges = np.concatenate([[-np.inf], (np.arange(-30, 30) + 0.5) / 3, [np.inf]])
    eta, s = 0.07, -1.6
    low, high = edges[:-1], edges[1:]
    at = derivatives(np.full(61, eta), s, low, high)
    mean = float(np.exp(at.loglik) @ at.weight)
    found = expected_weight(np.array([eta]), s, np.array([0.5]), np.array([0.5 + 1 / 3]))
    assert found[0] == pytest.approx(mean, rel=1e-4)


def test_a_surprise_still_counts_in_the_expected_weight() -> None:
    surprise = np.array([3.0]), -2.0, np.array([-1 / 6]), np.array([1 / 6])
    assert derivatives(*surprise).weight[0] < 1e-6
    assert expected_weight(*surprise)[0] > 1.0


def test_an_open_ended_row_keeps_its_own_weight() -> None:
    row = np.array([0.0]), -1.0, np.array([0.5]), np.array([np.inf])
    assert expected_weight(*row)[0] == derivatives(*row).weight[0]


def test_open_ended_rows_beside_closed_ones_keep_their_own_weight() -> None:
    low, high = np.array([-1 / 6, 0.5]), np.array([1 / 6, np.inf])
    both = expected_weight(np.zeros(2), -1.0, low, high)
    for row in (0, 1):
        alone = expected_weight(np.zeros(1), -1.0, low[row : row + 1], high[row : row + 1])
        assert both[row] == pytest.approx(alone[0])


@pytest.mark.parametrize("half", [0.05, 0.005, 0.0001])
def test_the_finer_the_steps_the_closer_to_an_exact_value(half: float) -> None:
    """Fisher information of a logistic location: 1 / (3 scale^2), however narrow the step."""
    found = expected_weight(np.array([0.3]), np.log(2.0), np.array([-half]), np.array([half]))
    assert found[0] == pytest.approx(1 / 12, rel=1e-3)
