"""On simulated logs the estimates come near the truth, and the intervals hold it as often as they say."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import pytest

from logbook.analysis.ink.answer import fit_inks
from tests.analysis.ink.simulation import DIRECTIONS, Studio, simulated


@dataclass
class Scores:
    """What a series of simulations came to: relative errors of the totals, hits of totals and of single inks."""

    errors: list[float] = field(default_factory=list)
    totals: list[bool] = field(default_factory=list)
    inks: list[bool] = field(default_factory=list)


def scored(studio: Studio, seeds: range) -> Scores:
    """Fit one log after the other."""
    scores = Scores()
    for seed in seeds:
        log, truth = simulated(seed, studio)
        use = fit_inks(log)
        for way in DIRECTIONS:
            total = use.total(way)
            assert total is not None
            scores.errors.append(abs(total.value - truth.total(way)) / truth.total(way))
            scores.totals.append(total.low <= truth.total(way) <= total.high)
            rates = {ink: fit.interval(way) for ink, fit in use.fits.items()}
            scores.inks += [rate.low <= truth.exchange[ink, way] <= rate.high for ink, rate in rates.items() if rate]
    return scores


@pytest.mark.parametrize("read_around", [True, False])
def test_eight_exchanges_at_one_percent_steps_are_told_to_a_tenth(read_around: bool) -> None:
    scores = scored(Studio(read_around=read_around), range(5))
    assert np.median(scores.errors) < 0.1


@pytest.mark.parametrize("step", [1.0, 5.0])
@pytest.mark.parametrize("read_around", [True, False])
def test_nine_in_ten_intervals_hold_the_truth(step: float, read_around: bool) -> None:
    scores = scored(Studio(step=step, read_around=read_around), range(6))
    # Of 108 intervals: three standard errors on either side of 0.9 (inks of one log are nearly independent).
    assert 0.82 < np.mean(scores.inks) < 0.98


def test_exchanges_that_differ_widen_the_total() -> None:
    steady, _ = simulated(3, Studio())
    uneven, truth = simulated(3, Studio(exchange_spread=0.15))
    for way in DIRECTIONS:
        sure, unsure = fit_inks(steady).total(way), fit_inks(uneven).total(way)
        assert sure is not None and unsure is not None
        assert unsure.width > 1.5 * sure.width
        assert unsure.low < truth.total(way) < unsure.high
