"""By how much changeovers differ from one another in all inks alike: a random effect, known by its likelihood and a prior."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.draws import Kind
from logbook.analysis.ink.fit import InkFit, Spread
from logbook.analysis.ink.log import Floats, InkLog
from logbook.analysis.ink.readings import Stretch
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.random_walk import Run, accumulated

__all__ = ["exchange_spread"]

#: Before the log has been asked, the likeliest relative spread of changeovers; its mean is twice that (common practice,
#: no source for the figure).
LIKELIEST = 0.04
#: The spreads that are tried.
TRIED = np.linspace(0.005, 0.6, 120)
#: The least share of the prints' variance that is each ink's own.
LEAST_OWN = 0.25
#: Weights below this share of the largest change nothing.
FAINT = 1e-6


@dataclass
class _Said:
    """What the inks' readings say of the changeovers' deviations, as the normal equations of them.

    First m rows: each changeover's deviation, in units of what it takes; last m: that of the prints read together with
    it, in standard deviations. ``weight`` (2 m, 2 m), ``leaning`` (2 m,).
    """

    weight: Floats
    leaning: Floats


def exchange_spread(log: InkLog, fits: Mapping[str, InkFit], prints: float) -> Spread:
    """The relative spread of changeovers, common to all inks, from series that are ``steady``.

    A changeover's deviation moves every reading after it by as much of what the changeover takes of each ink. With the
    rates integrated out, the inks' readings give these deviations a normal likelihood, and so (deviations
    N(0, spread^2)) the spread its restricted one (Patterson and Thompson 1971, Biometrika 58, 545-554). The prior is a
    gamma distribution of shape 2: it keeps off 0, where few changeovers would often put the estimate (Chung, Rabe-Hesketh,
    Dorie, Gelman and Liu 2013, Psychometrika 78, 685-709). ``prints`` is the spread of prints in common: those read
    together with a changeover deviate in all inks as well.
    """
    count = len(log.exchanges)
    said = _Said(np.zeros((2 * count, 2 * count)), np.zeros(2 * count))
    for fit in fits.values():
        _listen(said, log, fit, prints)
    weight, leaning = _without_prints(said, count)
    strength, turn = np.linalg.eigh(weight)
    log_density = _log_likelihood(np.maximum(strength, 0.0), turn.T @ leaning) + np.log(TRIED) - TRIED / LIKELIEST
    density = np.exp(log_density - np.max(log_density))
    kept = density > FAINT
    return Spread(TRIED[kept], density[kept] / np.sum(density[kept]))


def _log_likelihood(strength: Floats, along: Floats) -> Floats:
    """Of each spread tried (t,), for deviations that the data know to 1 / ``strength`` (m,) each, up to a constant."""
    square = TRIED[:, None] ** 2
    grown = 1.0 + square * strength
    return np.asarray(np.sum(square * along**2 / grown - np.log(grown), axis=1) / 2.0)


def _without_prints(said: _Said, count: int) -> tuple[Floats, Floats]:
    """Weight (m, m) and leaning (m,) for the changeovers alone, with the deviations of prints integrated out."""
    exchanges, prints = slice(0, count), slice(count, 2 * count)
    across = said.weight[exchanges, prints]
    known = said.weight[prints, prints] + np.eye(count)
    solved = np.linalg.solve(known, np.column_stack([across.T, said.leaning[prints]]))
    return said.weight[exchanges, exchanges] - across @ solved[:, :-1], said.leaning[exchanges] - across @ solved[:, -1]


def _listen(said: _Said, log: InkLog, fit: InkFit, prints: float) -> None:
    """Add what one ink says, its rates integrated out."""
    k, m = len(fit.rates), len(said.leaning)
    rates, crossed, target = np.zeros((k, k)), np.zeros((k, m)), np.zeros(k)
    for run, series in zip(fit.telling if fit.series else [], fit.series, strict=True):
        rows, draws = _exchanges_in(run, fit)
        loads = [_after(rows, len(series.observed)) * fit.rates[fit.draws.column[draws]]]
        events = fit.draws.event[draws] - len(log.print_at)
        seen, first = np.unique(rows, return_index=True)
        walked = _increments(series)
        loads.append(_after(seen, len(series.observed)) * (prints * fit.area_rate * np.sqrt(walked[seen])))
        place = np.concatenate([events, len(log.exchanges) + events[first]])
        root = np.linalg.cholesky(series.known + _walk(fit, walked, seen, prints))
        half = np.linalg.solve(root, np.column_stack([series.design, series.observed, *loads]))
        products = half.T @ half
        rates += products[:k, :k]
        target += products[:k, k]
        crossed[:, place] += products[:k, k + 1 :]
        said.weight[np.ix_(place, place)] += products[k + 1 :, k + 1 :]
        said.leaning[place] += products[k + 1 :, k]
    inverse = np.linalg.pinv(rates, rcond=1e-12, hermitian=True)
    said.weight -= crossed.T @ inverse @ crossed
    said.leaning -= crossed.T @ inverse @ target


def _exchanges_in(run: Stretch, fit: InkFit) -> tuple[NDArray[np.int64], NDArray[np.int64]]:
    """The changeovers within a stretch: the row of the first reading after each, and which draw it was."""
    first, last = int(run.upto[0]), int(run.upto[-1])
    exchange = fit.draws.of(Kind.CHANGEOVERS)
    draws = first + np.flatnonzero(exchange[fit.draws.column[first:last]])
    return np.searchsorted(run.upto[1:], draws, side="right"), draws


def _after(rows: NDArray[np.int64], count: int) -> Floats:
    """A column for each of ``rows``: 1 from that row on."""
    return np.asarray(np.arange(count)[:, None] >= rows, dtype=np.float64)


def _increments(series: Run) -> Floats:
    """Squared area printed before each reading since the one before."""
    return np.diff(np.diag(series.walk), prepend=0.0)


def _walk(fit: InkFit, walked: Floats, seen: NDArray[np.int64], prints: float) -> Floats:
    """Covariance of what prints vary by, less what those in the rows ``seen`` have in common over the inks."""
    variance = np.full(len(walked), fit.spread**2)
    variance[seen] = np.maximum(variance[seen] - (prints * fit.area_rate) ** 2, LEAST_OWN * variance[seen])
    return accumulated(np.cumsum(variance * walked))
