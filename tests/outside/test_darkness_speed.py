"""The fit with its pooling takes at most a twentieth of lifelines' fit of the same columns."""

from __future__ import annotations

import numpy as np

from tests.analysis.darkness.simulation import simulate
from tests.bench.darkness_simulation import lifelines_seconds, our_seconds


def test_a_thousand_prints_take_at_most_a_twentieth_of_lifelines() -> None:
    simulated = simulate(1000, np.random.default_rng(412))
    assert our_seconds(simulated, times=5) <= 0.05 * lifelines_seconds(simulated)


def test_a_hundred_thousand_prints_take_seconds() -> None:
    assert our_seconds(simulate(100_000, np.random.default_rng(413)), times=1) < 10
