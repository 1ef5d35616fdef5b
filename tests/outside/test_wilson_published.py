"""Wilson's interval against the published examples."""

from __future__ import annotations

import pytest

from logbook.analysis.numeric.proportion import wilson

# Newcombe 1998, Statistics in Medicine 17, 857-872, Table I, method 3 (score, without continuity correction), 95 %.
NEWCOMBE = [(81, 263, 0.2553, 0.3662), (15, 148, 0.0624, 0.1605), (0, 20, 0.0, 0.1611), (1, 29, 0.0061, 0.1718)]


@pytest.mark.parametrize(("successes", "n", "low", "high"), NEWCOMBE)
def test_the_examples_of_newcombe(successes: int, n: int, low: float, high: float) -> None:
    share = wilson(successes, n, level=0.95)
    assert share.low == pytest.approx(low, abs=5e-5)
    assert share.high == pytest.approx(high, abs=5e-5)
