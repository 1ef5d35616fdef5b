"""Ink that went without anything in the log to account for it: kept out of the rates, left in the account."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from logbook.analysis.ink.draws import Kind
from logbook.analysis.ink.fit import USUAL_SPREAD, InkFit, refitted
from logbook.analysis.ink.log import Floats
from logbook.analysis.ink.readings import Stretch

__all__ = ["cut_at_losses"]

#: A fall this many standard deviations beyond what was drawn is a loss: chance alone makes one in a thousand million.
FAR = 6.0
#: Losses hide each other: the largest must go before the next one shows.
ROUNDS = 4
#: Fewer falls than this do not tell what is usual.
FEWEST = 6


def cut_at_losses(fits: Mapping[str, InkFit], step: float) -> dict[str, InkFit]:
    """Fits whose stretches end before a loss and begin again after it, so that it moves no rate."""
    kept = dict(fits)
    for _ in range(ROUNDS):
        lost = {ink: [_losses(run, fit, step) for run in fit.stretches] for ink, fit in kept.items()}
        if not any(rows for found in lost.values() for rows in found):
            break
        cut = {ink: _cut(fit, lost[ink]) for ink, fit in kept.items()}
        kept = refitted(cut, step)
    return kept


def _cut(fit: InkFit, lost: list[list[int]]) -> InkFit:
    parts = [part for run, rows in zip(fit.stretches, lost, strict=True) for part in run.cut(rows)]
    return replace(fit, stretches=tuple(parts))


def _losses(run: Stretch, fit: InkFit, step: float) -> list[int]:
    """Rows of a stretch before which far more went than its prints drew.

    Residuals of the falls between readings, each against a fit without it (externally studentised: Cook and Weisberg,
    Residuals and Influence in Regression, 1982, sect. 2.2.1). Changeovers and cleanings may well differ: what goes
    while there was one is never called a loss.
    """
    area = fit.draws.of(Kind.PRINTS)
    if len(run.percent) < FEWEST or not np.any(area):
        return []
    drawn = np.diff(_from_zero(run.totals(fit.draws)), axis=0)
    fell = np.diff(np.concatenate([[0.0], run.drawn_ml()]))
    squares = np.diff(_from_zero(run.squares(fit.draws)), axis=0)[:, area].sum(axis=1)
    plain = np.flatnonzero(drawn[:, fit.draws.of(Kind.CHANGEOVERS, Kind.CLEANINGS)].sum(axis=1) == 0.0)
    expected = drawn[plain] @ fit.rates
    if len(plain) < FEWEST:
        return []
    rounding = (step * run.ml_per_percent) ** 2 / 6.0
    sd = np.sqrt(rounding + (USUAL_SPREAD * fit.area_rate) ** 2 * squares[plain])
    beyond = _studentised(expected / sd, fell[plain] / sd)
    return [int(row) + 1 for row in plain[beyond > FAR]]


def _studentised(x: Floats, y: Floats) -> Floats:
    """Residuals of y = b x against a fit without each; the spread of y is at least 1, which is known beforehand."""
    if not np.any(x):
        return np.zeros(len(x))
    leverage = x * x / float(x @ x)
    residual = y - x * float(x @ y) / float(x @ x)
    without = (residual @ residual - residual**2 / np.maximum(1 - leverage, 1e-9)) / max(len(x) - 2, 1)
    return np.asarray(residual / np.sqrt(np.maximum(without, 1.0) * np.maximum(1 - leverage, 1e-9)))


def _from_zero(totals: Floats) -> Floats:
    return np.vstack([np.zeros(totals.shape[1]), totals])
