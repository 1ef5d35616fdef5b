"""On simulated logs the estimates come near the truth, and the intervals hold it as often as they say."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np
import pytest

from logbook.analysis.ink.answer import InkUse, fit_inks
from logbook.analysis.ink.draws import AREA, IDLE
from tests.analysis.ink.hand import closes
from tests.analysis.ink.simulation import DIRECTIONS, Studio, Truth, simulated


@dataclass
class Scores:
    """What a series of simulations came to: relative errors of rates and of changeovers, and hits of their intervals.

    ``rates`` are those of single inks per square metre, ``totals`` changeovers over all inks, ``inks`` of single ones;
    ``idle`` is what the printer is said to draw a day of each ink.
    """

    rate_errors: list[float] = field(default_factory=list)
    rates: list[bool] = field(default_factory=list)
    errors: list[float] = field(default_factory=list)
    totals: list[bool] = field(default_factory=list)
    inks: list[bool] = field(default_factory=list)
    idle: list[float] = field(default_factory=list)


def scored(studio: Studio, seeds: range) -> Scores:
    """Fit one log after the other."""
    scores = Scores()
    for seed in seeds:
        log, truth = simulated(seed, studio)
        use = fit_inks(log)
        assert closes(use)
        _score_rates(scores, use, truth)
        scores.idle.append(float(np.mean([fit.rate(IDLE) for fit in use.fits.values()])))
        for way in DIRECTIONS:
            total = use.total(way)
            assert total is not None
            scores.errors.append((total.value - truth.total(way)) / truth.total(way))
            scores.totals.append(total.low <= truth.total(way) <= total.high)
            rates = {ink: fit.interval(way) for ink, fit in use.fits.items()}
            scores.inks += [rate.low <= truth.exchange[ink, way] <= rate.high for ink, rate in rates.items() if rate]
    return scores


def _score_rates(scores: Scores, use: InkUse, truth: Truth) -> None:
    found = [
        (rate, truth.rate(ink, black)) for ink, fit in use.fits.items() for black in AREA if (rate := fit.interval(AREA[black]))
    ]
    scores.rate_errors.append(sum(rate.value for rate, _ in found) / sum(true for _, true in found) - 1.0)
    scores.rates += [rate.low <= true <= rate.high for rate, true in found]


@pytest.mark.parametrize("read_around", [True, False])
def test_eight_exchanges_at_one_percent_steps_are_told_to_a_tenth(read_around: bool) -> None:
    scores = scored(Studio(read_around=read_around), range(5))
    assert np.median(np.abs(scores.errors)) < 0.1


@pytest.mark.parametrize("step", [1.0, 5.0])
@pytest.mark.parametrize("read_around", [True, False])
def test_nine_in_ten_intervals_hold_the_truth(step: float, read_around: bool) -> None:
    scores = scored(Studio(step=step, read_around=read_around), range(6))
    # Of 108 intervals: three standard errors on either side of 0.9 (inks of one log are nearly independent).
    assert 0.81 < np.mean(scores.inks) < 0.99


def test_exchanges_that_differ_widen_the_total() -> None:
    steady, _ = simulated(3, Studio())
    uneven, truth = simulated(3, Studio(exchange_spread=0.15))
    for way in DIRECTIONS:
        sure, unsure = fit_inks(steady).total(way), fit_inks(uneven).total(way)
        assert sure is not None and unsure is not None
        assert unsure.width > 1.5 * sure.width
        assert unsure.low < truth.total(way) < unsure.high


def test_in_a_printer_s_real_life_rates_and_changeovers_are_near_the_truth() -> None:
    """A day of its own, idle spells, prints nobody logged and heavier photo prints at once; what is noted is known."""
    life = Studio(
        bench_days=5, holidays=2, unlogged=0.15, idle_ml=0.08, spell_ml=1.5, photo_factor=1.25, noted=0.2, exchange_spread=0.08
    )
    scores = scored(life, range(40, 44))
    assert abs(np.mean(scores.rate_errors)) < 0.08
    assert abs(np.mean(scores.errors)) < 0.08
    assert np.mean(scores.rates + scores.inks) > 0.75


def test_what_the_printer_draws_by_itself_is_not_taken_for_prints() -> None:
    scores = scored(Studio(bench_days=5, holidays=2, idle_ml=0.2, idle_at_noon=True), range(300, 308))
    assert abs(np.mean(scores.rate_errors)) < 0.035
    assert np.mean(scores.idle) == pytest.approx(0.2, abs=0.02)


def test_a_printer_that_draws_nothing_by_itself_is_not_said_to() -> None:
    assert np.mean(scored(Studio(bench_days=5, holidays=2), range(30, 33)).idle) < 0.02
