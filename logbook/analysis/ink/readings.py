"""Levels as running totals: each cartridge's readings beside what had drawn on it by then."""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from logbook.analysis.ink.draws import Draws, Timeline
from logbook.analysis.ink.events import Span
from logbook.analysis.ink.log import CartridgeUse, Floats, InkLog
from logbook.analysis.numeric.arrays import NDArray

__all__ = ["Stretch", "Use", "stretches"]

#: A longer series is cut into pieces of this many readings: the work grows with the cube of a piece's length, and
#: what a cut loses is one shared rounding error.
LONGEST = 128
#: Levels that rise, or fall with nothing drawn, by more than a step are not the gauge's rounding.
MORE_THAN_A_STEP = 1.0 + 1e-6


@dataclass(frozen=True)
class Stretch:
    """An unbroken series of levels of one cartridge, the start first: time, level and draws so far at each (m,).

    ``upto`` (m,) counts the draws of the ink before each level; ``exact`` says that the first level is known and not
    read: a full cartridge.
    """

    cartridge: str
    ml_per_percent: float
    exact: bool
    at: Floats
    percent: Floats
    upto: NDArray[np.int64]

    def cut(self, rows: Sequence[int]) -> list[Stretch]:
        """The stretch in parts: a new one begins with each of ``rows``."""
        parts = []
        for first, end in pairwise([0, *rows, len(self.percent)]):
            kept = slice(first, end)
            exact = self.exact and first == 0
            parts.append(replace(self, exact=exact, at=self.at[kept], percent=self.percent[kept], upto=self.upto[kept]))
        return parts

    def drawn_ml(self) -> Floats:
        """Ink gone since the first level, at the others (m - 1,), in ml."""
        return np.asarray(self.ml_per_percent * (self.percent[0] - self.percent[1:]))

    def totals(self, draws: Draws) -> Floats:
        """What had drawn since the first level, by column, at the others (m - 1, k)."""
        return _since_first(draws, draws.amount, self.upto)

    def squares(self, draws: Draws) -> Floats:
        """Running sum of squared areas and of squared counts, laid out as ``totals``."""
        return _since_first(draws, draws.amount**2, self.upto)


@dataclass(frozen=True)
class Use:
    """What one cartridge gave from each level to the next, up to its last reading: (m - 1,) falls in ml.

    ``at`` (m,) are the times of the levels in ``percent`` (m,), ``upto`` (m,) counts the draws of the ink before each.
    A rise is no fall: it means ink that was put in, not given back. ``split`` is a changeover whose draw it shares with
    the cartridge before.
    """

    cartridge: str
    at: Floats
    percent: Floats
    upto: NDArray[np.int64]
    fell_ml: Floats
    split: Span | None

    @property
    def used_ml(self) -> float:
        """All that it gave."""
        return float(np.sum(self.fell_ml))


@dataclass(frozen=True)
class _Level:
    at: float
    percent: float
    upto: int
    exact: bool


def stretches(log: InkLog, line: Timeline, draws: Draws) -> tuple[list[Stretch], list[Use]]:
    """The series of levels of an ink over all its cartridges, and what each cartridge gave.

    A cartridge is in until the next one of its ink is put in, so that a black that is put back carries on.
    """
    own = [cartridge for cartridge in log.cartridges if cartridge.ink == draws.ink]
    at, read = _read(log, line, draws)
    runs: list[Stretch] = []
    uses: list[Use] = []
    first = [_first(at, read, cartridge, _splitting(draws, cartridge)) for cartridge in own]
    for cartridge, begin, end in zip(own, first, [*first[1:], len(read)], strict=False):
        split = _splitting(draws, cartridge)
        begins = cartridge.installed if split is None else max(cartridge.installed, split.at)
        start, found = _start(draws, cartridge, begins), read[begin:end]
        if len(start + found) > 1:
            uses.append(_use(cartridge, start + found, log.step_percent, split))
        telling = [level for level in (found if split else start + found) if level.percent > 0.0]
        parts = _unbroken(telling, log.step_percent) if telling else []
        runs += [_stretch(cartridge.id, cartridge.nominal_ml / 100.0, part) for part in parts]
    return runs, uses


def _splitting(draws: Draws, cartridge: CartridgeUse) -> Span | None:
    """The changeover in the middle of which a cartridge was put in."""
    return next((split.span for split in draws.splits if split.cartridge == cartridge.id), None)


def _first(at: Sequence[float], read: Sequence[_Level], cartridge: CartridgeUse, split: Span | None) -> int:
    """Place of the first reading on a cartridge; one of its very minute that looks like the old one is still that one's."""
    first = bisect_left(at, cartridge.installed if split is None else max(cartridge.installed, split.at))
    while first < len(read) and at[first] == cartridge.installed and first:
        level, old, new = read[first].percent, read[first - 1].percent, cartridge.start_percent or 100.0
        if abs(level - old) >= abs(level - new):
            break
        first += 1
    return first


def _start(draws: Draws, cartridge: CartridgeUse, begins: float) -> list[_Level]:
    """The level of a cartridge when it was put in, where that counts."""
    if cartridge.start_percent is None:
        return []
    upto = int(np.searchsorted(draws.at, begins, side="left"))
    return [_Level(cartridge.installed, cartridge.start_percent, upto, cartridge.start_percent >= 100.0)]


def _read(log: InkLog, line: Timeline, draws: Draws) -> tuple[list[float], list[_Level]]:
    """Times and levels of the ink's readings, but for those in the middle of a changeover."""
    installed = {cartridge.id: cartridge.installed for cartridge in log.cartridges}
    middle = [(span.start, span.end) for span in line.spans if span.measured]
    middle += [(split.span.start, installed[split.cartridge]) for split in draws.splits]
    every = [reading.at for reading in log.readings]
    left_out: set[int] = set()
    for start, end in middle:
        left_out.update(range(bisect_right(every, start), bisect_left(every, end)))
    kept = [reading for n, reading in enumerate(log.readings) if draws.ink in reading.levels and n not in left_out]
    at = [reading.at for reading in kept]
    upto = np.searchsorted(draws.at, at, side="right")
    return at, [_Level(reading.at, reading.levels[draws.ink], int(n), exact=False) for reading, n in zip(kept, upto, strict=True)]


def _use(cartridge: CartridgeUse, levels: Sequence[_Level], step: float, split: Span | None) -> Use:
    fell = -np.diff([level.percent for level in levels])
    fell[fell < -step * MORE_THAN_A_STEP] = 0.0
    return Use(
        cartridge.id,
        np.array([level.at for level in levels], dtype=np.float64),
        np.array([level.percent for level in levels], dtype=np.float64),
        np.array([level.upto for level in levels], dtype=np.int64),
        cartridge.nominal_ml / 100.0 * fell,
        split,
    )


def _unbroken(levels: Sequence[_Level], step: float) -> Iterator[list[_Level]]:
    """Cut where ink came or went that nothing in the log accounts for; levels with no draw between are one.

    Levels of 0 are left out before: an empty gauge says no more than that.
    """
    part = [[levels[0]]]
    for before, level in pairwise(levels):
        fell, drew = before.percent - level.percent, level.upto > before.upto
        if fell < -step * MORE_THAN_A_STEP or (not drew and fell > step * MORE_THAN_A_STEP):
            yield [_one(same) for same in part]
            part = [[level]]
        elif drew:
            if len(part) >= LONGEST:
                yield [_one(same) for same in part]
                part = [part[-1]]
            part.append([level])
        else:
            part[-1].append(level)
    yield [_one(same) for same in part]


def _one(same: Sequence[_Level]) -> _Level:
    if same[0].exact:
        return same[0]
    return _Level(same[0].at, float(np.mean([level.percent for level in same])), same[0].upto, exact=False)


def _stretch(cartridge: str, scale: float, levels: Sequence[_Level]) -> Stretch:
    at = np.array([level.at for level in levels], dtype=np.float64)
    percent = np.array([level.percent for level in levels], dtype=np.float64)
    upto = np.array([level.upto for level in levels], dtype=np.int64)
    return Stretch(cartridge, scale, levels[0].exact, at, percent, upto)


def _since_first(draws: Draws, amount: Floats, upto: NDArray[np.int64]) -> Floats:
    """Sums by column since the first of the levels, at the others: (m - 1, k). ``upto`` (m,) counts draws before each."""
    first, end = int(upto[0]), int(upto[-1])
    by_column = np.zeros((end - first + 1, len(draws.columns)))
    by_column[np.arange(1, end - first + 1), draws.column[first:end]] = amount[first:end]
    return np.asarray(np.cumsum(by_column, axis=0)[upto[1:] - first])
