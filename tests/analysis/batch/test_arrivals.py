"""How many prints are ordered: rates that cover the truth, and a season where the year shows one."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.batch.arrivals import Arrivals, Counts


def weeks(seed: int, number: int = 52, mean: float = 1.5, lot: int = 4) -> Counts:
    """Weeks in which orders of one to ``lot`` prints come in waves: their prints scatter far more than a Poisson's."""
    draw = np.random.default_rng(seed)
    wave = draw.gamma(1.0, 1.0, (number, 1))
    return np.asarray(draw.poisson(mean * wave, (number, 2)) * draw.integers(1, lot + 1, (number, 2)))


def test_intervals_hold_the_true_rate_though_orders_come_in_waves() -> None:
    truth = 1.5 * 2.5 / 5
    held = [not Arrivals(weeks(seed), 5.0).rates()["matte"].excludes(truth) for seed in range(300)]
    # There is no season, so its factor should be 1: nine intervals in ten are promised to hold the truth.
    assert 0.82 <= np.mean(held) <= 0.96


def test_waves_leave_more_open_than_chance_alone_would() -> None:
    """The prints of a week scatter many times as much as a Poisson's, and the interval with them."""
    waves = np.mean([Arrivals(weeks(seed), 5.0).rates()["matte"].width for seed in range(20)])
    steady = [Arrivals(np.random.default_rng(seed).poisson(3.75, (52, 2)), 5.0).rates()["matte"].width for seed in range(20)]
    assert waves > 2 * np.mean(steady)


def test_a_season_is_followed_as_far_as_the_year_shows_one() -> None:
    draw = np.random.default_rng(2)
    quiet, busy = draw.poisson(2, (46, 2)), draw.poisson(9, (6, 2))
    assert Arrivals(np.concatenate([busy, quiet]), 5.0).season() == pytest.approx(9 / 2.8, rel=0.15)
    assert Arrivals(np.concatenate([quiet[:40], busy, quiet[:6]]), 5.0).season() < 0.9
    # The same six weeks tell nothing where less than a year is logged.
    assert Arrivals(np.concatenate([busy, quiet[:45]]), 5.0).season() == 1.0


def test_without_a_season_the_factor_stays_near_one() -> None:
    factors = [Arrivals(np.random.default_rng(seed).poisson(3, (52, 2)), 5.0).season() for seed in range(200)]
    assert 0.9 < np.mean(factors) < 1.1 and np.std(factors) < 0.12


def test_drawn_weeks_keep_the_mean_and_move_both_blacks_together() -> None:
    known = np.array([[10, 4], [0, 0]])
    drawn = Arrivals(known, 5.0).drawn(np.random.default_rng(1), 4_000, 2)
    assert drawn.mean(axis=(0, 1)) == pytest.approx([5.0, 2.0], rel=0.05)
    assert set(map(tuple, drawn.reshape(-1, 2).tolist())) == {(10, 4), (0, 0)}


def test_nothing_ordered_is_a_rate_of_nothing() -> None:
    assert Arrivals(np.zeros((52, 2), dtype=np.int64), 5.0).rates()["photo"].high == 0.0
