"""What the log would have said of its newest prints."""

from __future__ import annotations

import numpy as np

from logbook.analysis.darkness.score import score
from tests.analysis.darkness.hand import NOWHERE, judged
from tests.analysis.darkness.simulation import WORLDS, simulate


def test_prints_fall_where_they_were_foretold_and_nearer_than_the_average_of_their_paper() -> None:
    held, prints = 0, 0
    for seed in range(6):
        simulated = simulate(300, np.random.default_rng([81, seed]), world=WORLDS["all three"])
        found = score(simulated.judged, simulated.place)
        assert found is not None and found.prints <= 60
        assert found.miss_stops < found.paper_miss_stops
        held, prints = held + found.held, prints + found.prints
    assert 0.84 <= held / prints <= 0.96


def test_a_short_log_foretells_nothing() -> None:
    assert score(judged([0, -1, 1, 0] * 10), NOWHERE) is None
