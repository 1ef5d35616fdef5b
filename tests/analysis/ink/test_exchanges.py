"""By how much changeovers differ in all inks alike: against the whole likelihood, and on logs with known truth."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.draws import draws_on, timeline
from logbook.analysis.ink.exchanges import LEAST_OWN, LIKELIEST, TRIED, exchange_spread
from logbook.analysis.ink.fit import InkFit, Variation, first_fits, fit_again, steady
from logbook.analysis.ink.log import Floats, InkLog
from logbook.analysis.ink.readings import stretches
from tests.analysis.ink.hand import Hand
from tests.analysis.ink.simulation import Studio, simulated

STILL = Variation(0.1, 0.05)


def _steady(log: InkLog) -> dict[str, InkFit]:
    line, levels = timeline(log), {}
    for ink in log.inks:
        draws = draws_on(log, line, ink)
        levels[ink] = (draws, *stretches(log, line, draws))
    return steady(fit_again(first_fits(levels, log.step_percent), log.step_percent, STILL), log.step_percent, STILL)


def _small(seed: int, *, around: bool, spread: float = 0.1) -> InkLog:
    """Two and a half months with three changeovers, three inks."""
    studio = Studio(exchanges=3, days=75, read_around=around, exchange_spread=spread, cartridge_ml=200.0)
    log, _ = simulated(seed, studio)
    return replace(log, inks=("photo_black", "cyan", "grey"))


def _whole(log: InkLog, fits: Mapping[str, InkFit], prints: float) -> Floats:
    """The restricted log likelihood of every spread tried, from one covariance of all readings of all inks."""
    blocks, designs, observed, deviations, together = [], [], [], [], []
    for fit in fits.values():
        columns = [isinstance(column, tuple) for column in fit.draws.columns]
        for run, series in zip(fit.telling, fit.series, strict=True):
            n = len(series.observed)
            swings, walks, shared = np.zeros((n, len(log.exchanges))), np.zeros((n, len(log.exchanges))), set()
            for draw in range(run.upto[0], run.upto[-1]):
                if not columns[fit.draws.column[draw]]:
                    continue
                row = int(np.flatnonzero(run.upto[1:] > draw)[0])
                which = fit.draws.event[draw] - len(log.print_at)
                swings[row:, which] += fit.rates[fit.draws.column[draw]]
                before = series.walk[row - 1, row - 1] if row else 0.0
                if row not in shared:
                    walks[row:, which] += prints * fit.area_rate * np.sqrt(series.walk[row, row] - before)
                shared.add(row)
            variance = np.diff(np.diag(series.walk), prepend=0.0) * fit.spread**2
            for row in shared:
                variance[row] *= max(1 - (prints * fit.area_rate / fit.spread) ** 2, LEAST_OWN)
            grown = np.cumsum(variance)
            blocks.append(series.known + np.minimum.outer(grown, grown))
            designs.append((fit.draws.ink, series.design))
            observed.append(series.observed)
            deviations.append(swings)
            together.append(walks)
    covariance, design = _on_diagonal(blocks), _by_ink(designs)
    swing, walk, y = np.vstack(deviations), np.vstack(together), np.concatenate(observed)
    return np.array([_restricted(covariance + one**2 * swing @ swing.T + walk @ walk.T, design, y) for one in TRIED])


def _restricted(covariance: Floats, design: Floats, y: Floats) -> float:
    """Patterson and Thompson 1971, as printed, with dense matrices."""
    inverse = np.linalg.inv(covariance)
    held = design.T @ inverse @ design
    left = y - design @ np.linalg.solve(held, design.T @ inverse @ y)
    return float(-(np.linalg.slogdet(covariance)[1] + np.linalg.slogdet(held)[1] + left @ inverse @ left) / 2)


def _on_diagonal(blocks: list[Floats]) -> Floats:
    whole, place = np.zeros((sum(map(len, blocks)), sum(map(len, blocks)))), 0
    for block in blocks:
        whole[place : place + len(block), place : place + len(block)] = block
        place += len(block)
    return whole


def _by_ink(designs: list[tuple[str, Floats]]) -> Floats:
    inks = dict.fromkeys(ink for ink, _ in designs)
    width = {ink: next(one.shape[1] for name, one in designs if name == ink) for ink in inks}
    rows = [np.hstack([one if name == ink else np.zeros((len(one), width[ink])) for ink in inks]) for name, one in designs]
    return np.vstack(rows)


@pytest.mark.parametrize(("around", "prints"), [(True, 0.0), (True, 0.15), (False, 0.15)])
def test_the_weights_are_those_of_the_whole_likelihood_and_the_prior(around: bool, prints: float) -> None:
    log = _small(3, around=around)
    fits = _steady(log)
    density = _whole(log, fits, prints) + np.log(TRIED) - TRIED / LIKELIEST
    weights = np.exp(density - np.max(density))
    weights /= np.sum(weights)
    found = exchange_spread(log, fits, prints)
    assert found.weights == pytest.approx(weights[np.isin(TRIED, found.values)], rel=1e-4, abs=1e-8)
    assert np.sum(weights[~np.isin(TRIED, found.values)]) < 1e-4


def test_without_readings_only_the_prior_is_left() -> None:
    """A gamma distribution of shape 2: its mean is twice its mode, its mean square six times the square of that."""
    hand = Hand("cyan")
    hand.exchange(1)
    hand.exchange(2, to="matte")
    found = exchange_spread(hand.log(), fit_inks(hand.log()).fits, 0.0)
    assert found.values[np.argmax(found.weights)] == pytest.approx(LIKELIEST, abs=0.005)
    assert float(found.weights @ found.values) == pytest.approx(2 * LIKELIEST, rel=0.02)
    assert found.usual == pytest.approx(6**0.5 * LIKELIEST, rel=0.04)


def test_many_exchanges_read_finely_leave_no_doubt() -> None:
    """Forty changeovers know their spread to a ninth of it: 1 / sqrt(2 * 38)."""
    alike, apart = (simulated(7, Studio(step=0.1, exchanges=40, days=200, exchange_spread=spread))[0] for spread in (0.0, 0.25))
    assert fit_inks(alike).variation.exchanges < 0.03
    assert fit_inks(apart).variation.exchanges == pytest.approx(0.25, rel=0.3)


def test_one_ink_alone_tells_that_its_exchanges_differ() -> None:
    hand = Hand("cyan", step=0.01)
    hand.cartridge("cyan", ml=1000.0)
    level = 100.0
    for turn, ml in enumerate([5.0, 7.0, 9.0, 7.0, 5.0, 9.0, 6.0, 8.0]):
        before = hand.read(10 * turn + 1, cyan=round(level, 2))
        level -= ml / 10
        after = hand.read(10 * turn + 3, cyan=round(level, 2))
        hand.exchange(10 * turn + 2, to="photo" if turn % 2 == 0 else "matte", before=before, after=after)
    use = fit_inks(hand.log())
    assert use.variation.exchanges == pytest.approx(0.25, rel=0.35)
    total = use.total(("matte", "photo"))
    assert total is not None
    # Of 5, 9, 5 and 6 ml, the mean is known to about 1.7 / sqrt(4) * 2.
    assert total.value == pytest.approx(6.25, abs=0.1)
    assert 0.9 < total.value - total.low < 2.6
