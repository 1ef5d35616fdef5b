"""The darkness posterior against a full sampler's of the same model (figures stored by tests/bench/darkness_sampler.py)."""

from __future__ import annotations

import json

import numpy as np
import pytest

from tests.bench.darkness_sampler import STORED, compared, fitted

LOGS = json.loads(STORED.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def off() -> np.ndarray:
    """How far each end lies from the sampler's, as shares of the sampler's width, (intervals, 2)."""
    out = []
    for log in LOGS:
        model = fitted(log["log"])
        for name, row in compared(model).items():
            value, sd = model.linear(row)
            low, _, high = log["points"][name]
            out.append([(value - 1.6448536 * sd - low) / (high - low), (value + 1.6448536 * sd - high) / (high - low)])
    return np.array(out)


def test_ends_agree_within_a_tenth_of_the_width(off: np.ndarray) -> None:
    assert np.mean(np.abs(off) <= 0.1) >= 0.9
    assert np.abs(off).mean() <= 0.05


def test_no_interval_is_far_from_the_sampler_s(off: np.ndarray) -> None:
    assert np.abs(off).max() <= 0.3


def test_the_answer_takes_a_small_part_of_the_sampler_s_time() -> None:
    assert np.median([log["our_s"] / log["their_s"] for log in LOGS]) <= 1 / 200
