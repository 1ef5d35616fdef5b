"""Ink that went without anything in the log to account for it: kept out of the rates, left in the account."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from logbook.analysis.ink_draws import AREA
from logbook.analysis.ink_fit import InkFit, refitted
from logbook.analysis.ink_log import Floats
from logbook.analysis.ink_readings import Stretch

__all__ = ["cut_at_losses"]

#: A fall this many standard deviations beyond what was drawn is a loss: by chance, one reading in three million.
FAR = 5.0
#: Losses hide each other: the largest must go before the next one shows.
ROUNDS = 4


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
    """Rows of a stretch before which far more went than was drawn."""
    if len(run.percent) < 2 or not len(fit.rates):
        return []
    drawn = np.diff(_from_zero(run.totals(fit.draws)), axis=0)
    squares = np.diff(_from_zero(run.squares(fit.draws)), axis=0)
    area = np.array([column == AREA for column in fit.draws.columns])
    miss = np.diff(np.concatenate([[0.0], run.drawn_ml()])) - drawn @ fit.rates
    unsure = np.sum((drawn @ fit.covariance) * drawn, axis=1)
    rounding = (step * run.ml_per_percent) ** 2 / 6.0
    variance = rounding + unsure + fit.spread**2 * squares[:, area].sum(axis=1)
    return [int(row) + 1 for row in np.flatnonzero(miss > FAR * np.sqrt(variance))]


def _from_zero(totals: Floats) -> Floats:
    return np.vstack([np.zeros(totals.shape[1]), totals])
