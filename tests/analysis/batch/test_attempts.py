"""How many prints a keeper takes."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.batch.attempts import Attempts


def test_below_ten_keepers_one_print_is_counted_for_each() -> None:
    assert Attempts(30, 9).each == 1.0
    assert Attempts(30, 10).each == 3.0
    assert set(Attempts(30, 9).needed(np.random.default_rng(1), 3, 50)) == {3.0}


def test_prints_needed_are_those_of_the_log_on_average_and_scatter_as_chance_does() -> None:
    needed = Attempts(1_800, 1_000).needed(np.random.default_rng(1), 4, 20_000)
    assert needed.mean() == pytest.approx(4 * 1.8, rel=0.02)
    # Failures before the fourth keeper: variance 4 (1 - p) / p².
    assert needed.std() == pytest.approx(np.sqrt(4 * (1 - 1 / 1.8)) * 1.8, rel=0.05)
    assert needed.min() >= 4
