"""The fit with its pooling, its pictures, days and months against lifelines' fit of the same columns."""

from __future__ import annotations

import numpy as np

from tests.analysis.darkness.simulation import WORLDS, simulate
from tests.bench.darkness_speed import lifelines_seconds, our_seconds


def test_a_thousand_prints_take_at_most_a_third_of_lifelines() -> None:
    simulated = simulate(1000, np.random.default_rng(412), world=WORLDS["all three"])
    assert our_seconds(simulated, times=5) <= 0.3 * lifelines_seconds(simulated)
