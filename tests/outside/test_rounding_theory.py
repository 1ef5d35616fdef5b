"""Rounding of readings against theory: sd step / sqrt(12), of a difference step / sqrt(6); shared where steps are coarse."""

from __future__ import annotations

import math

import numpy as np
import pytest

from logbook.analysis.numeric.random_walk import rounding_covariance


def test_one_reading_and_a_difference() -> None:
    """Evaluation of measurement data (GUM, JCGM 100:2008), F.2.2.1 and 4.3.7: a resolution q has variance q^2 / 12."""
    far = np.array([[0.0, 100.0], [100.0, 0.0]])
    covariance = rounding_covariance(np.array([0.0, 37.3]), far, 5.0)
    assert math.sqrt(covariance[0, 0]) == pytest.approx(5.0 / math.sqrt(12.0))
    difference = covariance[0, 0] + covariance[1, 1] - 2 * covariance[0, 1]
    assert math.sqrt(difference) == pytest.approx(5.0 / math.sqrt(6.0))


@pytest.mark.parametrize("apart", [0.0, 0.1, 0.25, 0.5, 0.8, 1.0, 2.3])
def test_readings_a_part_of_a_step_apart_share_their_error(apart: float) -> None:
    """The errors themselves, rounded at 200,000 evenly spread phases (Sripad and Snyder 1977)."""
    phase = (np.arange(200_000) + 0.5) / 200_000
    first, second = np.round(phase) - phase, np.round(phase + apart) - (phase + apart)
    truth = float(np.mean(first * second))
    found = rounding_covariance(np.array([0.0, apart]), np.zeros((2, 2)), 1.0)[0, 1]
    assert found == pytest.approx(truth, abs=0.075 / 12)


def test_what_varies_in_between_unties_them() -> None:
    rng = np.random.default_rng(1977)
    phase, moved = rng.uniform(size=400_000), 0.3 + 0.15 * rng.normal(size=400_000)
    truth = float(np.mean((np.round(phase) - phase) * (np.round(phase + moved) - phase - moved)))
    unsure = np.array([[0.0, 0.15**2], [0.15**2, 0.0]])
    found = rounding_covariance(np.array([0.0, 0.3]), unsure, 1.0)[0, 1]
    assert found == pytest.approx(truth, abs=0.0006)
    assert np.all(np.linalg.eigvalsh(rounding_covariance(np.linspace(0, 3, 40), np.zeros((40, 40)), 1.0)) > 0.0)
