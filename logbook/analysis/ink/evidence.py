"""What the readings of all inks say of all rates, with what prints, changeovers and cleanings do to every ink alike."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.draws import Column, Kind
from logbook.analysis.ink.fit import InkFit, Variation
from logbook.analysis.ink.log import Floats, InkLog
from logbook.analysis.numeric.arrays import NDArray

__all__ = ["Evidence", "evidence"]

#: Directions that the readings know less well than this share of the best are not known at all.
UNKNOWN = 1e-9
#: The least share of an error's variance that is left, whatever the spreads.
LEAST_LEFT = 1e-3


@dataclass(frozen=True)
class Evidence:
    """Rows that are normal about ``design`` @ rates: (m, k) and (m,), with the covariance ``known`` (m, m) of their errors.

    ``prints`` and ``exchanges`` (m, m) are the parts of it that prints and changeovers, by differing, bring in.
    """

    columns: tuple[tuple[str, Column], ...]
    design: Floats
    target: Floats
    known: Floats
    prints: Floats
    exchanges: Floats

    def information(self, exchanges: float, prints: float) -> tuple[Floats, Floats]:
        """Precision (k, k) of the rates and its product with their mean (k,), where these differ by so many times the usual.

        The rows weigh the readings as the usual spreads would: only how sure they are changes.
        """
        covariance = self.known + (exchanges**2 - 1.0) * self.exchanges + (prints**2 - 1.0) * self.prints
        strength, axes = np.linalg.eigh(covariance)
        white = (axes / np.sqrt(np.maximum(strength, LEAST_LEFT))).T
        design, target = white @ self.design, white @ self.target
        return design.T @ design, design.T @ target

    def common_rate(self, column: Column) -> float:
        """A rate for one column, in ml, that is the same for all inks: a first idea of its size."""
        own = np.array([other == column for _, other in self.columns])
        design = np.column_stack([self.design[:, ~own], self.design[:, own].sum(axis=1)])
        return float(np.linalg.lstsq(design, self.target, rcond=UNKNOWN)[0][-1])


def evidence(log: InkLog, fits: Mapping[str, InkFit], common: Variation) -> Evidence:
    """Each ink's own rows have unit variance; two inks share the errors that one print or changeover makes in both."""
    rounds = np.array([one.at for one in log.readings])
    columns: list[tuple[str, Column]] = []
    designs: list[Floats] = []
    targets, moves, walks = [np.zeros(0)], [np.zeros((_events(log), 0))], []
    for ink, fit in fits.items():
        if fit.data is None:
            continue
        left, lengths, right = np.linalg.svd(fit.data.triangle, full_matrices=False)
        known = lengths > UNKNOWN * np.max(lengths, initial=0.0)
        touched = np.any(fit.data.triangle != 0.0, axis=0)
        columns += [(ink, column) for column, seen in zip(fit.draws.columns, touched, strict=True) if seen]
        designs.append((lengths[known, None] * right[known])[:, touched])
        targets.append(left.T[known] @ fit.data.target)
        turn = right[known].T / lengths[known]
        moved, walked = _moved(log, fit, common, rounds)
        moves.append(moved @ turn)
        walks.append(turn.T @ walked @ turn)
    together = np.hstack(moves)
    prints, rest = together[: len(rounds) + 1], together[len(rounds) + 1 :]
    exchanges = rest[: len(log.exchanges)]
    known, by_prints = together.T @ together, prints.T @ prints
    first = 0
    for walk in walks:
        own = slice(first, first + len(walk))
        known[own, own], by_prints[own, own] = np.eye(len(walk)), walk
        first += len(walk)
    return Evidence(tuple(columns), _diagonal(designs), np.concatenate(targets), known, by_prints, exchanges.T @ exchanges)


def _events(log: InkLog) -> int:
    """The times between rounds of readings, for the prints; then changeovers and cleanings, one by one; then all else."""
    return len(log.readings) + 1 + len(log.exchanges) + len(log.cleanings) + 1


def _diagonal(designs: list[Floats]) -> Floats:
    whole = np.zeros((sum(one.shape[0] for one in designs), sum(one.shape[1] for one in designs)))
    row = column = 0
    for one in designs:
        whole[row : row + one.shape[0], column : column + one.shape[1]] = one
        row, column = row + one.shape[0], column + one.shape[1]
    return whole


def _moved(log: InkLog, fit: InkFit, common: Variation, rounds: Floats) -> tuple[Floats, Floats]:
    """How far usual common deviations (events, k) move what an ink's readings say of its rates, and what walking does (k, k)."""
    moved, walked = np.zeros((_events(log), len(fit.rates))), np.zeros((len(fit.rates), len(fit.rates)))
    deviation = (common.common(fit.draws.columns) * fit.rates)[fit.draws.column] * fit.draws.amount
    event = len(rounds) + 1 + fit.draws.event - len(log.print_at)
    event = np.where(fit.draws.of(Kind.PRINTS)[fit.draws.column], np.searchsorted(rounds, fit.draws.at), event)
    for run, series in zip(fit.telling if fit.series else [], fit.series, strict=True):
        weights = np.linalg.solve(series.known + fit.spread**2 * series.walk, series.design)
        walked += fit.spread**2 * (weights.T @ series.walk @ weights)
        after = np.cumsum(weights[::-1], axis=0)[::-1]
        first, last = int(run.upto[0]), int(run.upto[-1])
        row = np.searchsorted(run.upto[1:], np.arange(first, last), side="right")
        _add(moved, event[first:last], row, deviation[first:last], after)
    return moved, walked


def _add(moved: Floats, event: NDArray[np.int64], row: NDArray[np.int64], deviation: Floats, after: Floats) -> None:
    """Add what so many deviations do to every reading from their ``row`` on; of one event they add up in squares."""
    keys, inverse = np.unique(event * len(after) + row, return_inverse=True)
    size = np.sqrt(np.bincount(inverse, deviation**2, minlength=len(keys)))
    np.add.at(moved, keys // len(after), after[keys % len(after)] * size[:, None])
