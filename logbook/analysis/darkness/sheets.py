"""A small planned test: 4 or 8 prints of one picture on one day that together tell several settings apart."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.entanglement import CALENDAR, Pair
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.next_test import MATTERS_STOPS, usual_now, variance_after
from logbook.analysis.darkness.prediction import Setup, information, row_of, with_level, with_value
from logbook.analysis.darkness.terms import OF_THE_PICTURE, PLACES, Value
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval, from_normal

FloatArray = NDArray[np.float64]

#: The settings that each number of sheets takes: their columns are those of a half or a smaller fraction of all
#: combinations, main effects first (Box, Hunter & Hunter, Statistics for Experimenters, 2nd ed. 2005, chapter 6).
COLUMNS = {4: ((0,), (1,), (0, 1)), 8: ((0,), (1,), (2,), (0, 1, 2), (0, 1), (0, 2), (1, 2))}
#: A test that leaves more than this of every interval is not worth its paper.
LITTLE_LEFT = 0.9
#: More settings than this in one test leave none of them known well.
MOST_SETTINGS = {4: 3, 8: 4}


@dataclass(frozen=True)
class Narrowed:
    """What the test would tell of one setting: ``value`` instead of ``against``, known now and then."""

    setting: str
    value: Value
    against: Value
    interval_now: Interval
    interval_then: Interval


@dataclass(frozen=True)
class Sheets:
    """The settings of each sheet, and what they would tell."""

    sheets: tuple[dict[str, Value], ...]
    narrows: tuple[Narrowed, ...]


@dataclass(frozen=True)
class _Change:
    """One setting put to another value than the usual one, and the row of what that does."""

    setting: str
    value: Value
    against: Value
    made: Setup
    row: FloatArray


def sheets_for(model: Model, pairs: Sequence[Pair], count: int) -> Sheets | None:
    """A test of ``count`` (4 or 8) sheets around what is usual now; None where nothing worth it is left to learn.

    The settings known least that may still matter are changed, entangled ones first; paper, and so the black, stay.
    """
    base = usual_now(model)
    mixed = {name for pair in pairs for name in (pair.a, pair.b)} - {CALENDAR}
    changes = sorted(_changes(model, base, mixed), key=lambda one: (one.setting not in mixed, -model.linear(one.row)[1]))
    chosen: list[_Change] = []
    for one in changes:
        if one.setting not in {other.setting for other in chosen}:
            chosen.append(one)
    chosen = chosen[: MOST_SETTINGS[count]]
    if not chosen:
        return None
    made = [_with_all(model, base, [one for one, on in zip(chosen, run, strict=False) if on]) for run in _runs(count)]
    rows = np.array([row_of(model, one) for one in made])
    noise = np.diag([1 / information(model, row, among_alike=True) for row in rows]) + model.unshared_variance
    narrows = tuple(_narrowed(model, one, rows, noise) for one in chosen)
    if all(one.interval_then.width > LITTLE_LEFT * one.interval_now.width for one in narrows):
        return None
    return Sheets(tuple(one.values(model) for one in made), narrows)


def _runs(count: int) -> list[list[bool]]:
    """Which changes each sheet has: every combination of the first two or three, the others as the columns say."""
    basic = 2 if count == 4 else 3
    signs = [[bool(run >> place & 1) for place in range(basic)] for run in range(count)]
    return [[sum(sign[place] for place in column) % 2 == len(column) % 2 for column in COLUMNS[count]] for sign in signs]


def _changes(model: Model, base: Setup, mixed: set[str]) -> Iterator[_Change]:
    usual = row_of(model, base)
    for number, factor in enumerate(model.terms.factors):
        if factor.name in PLACES or base.codes[number] >= factor.reported:
            continue
        for level in range(factor.reported):
            if level != base.codes[number]:
                made = with_level(model, base, number, level)
                against = factor.levels[base.codes[number]]
                yield from _if_open(
                    model, _Change(factor.name, factor.levels[level], against, made, row_of(model, made) - usual), mixed
                )
    for number, slope in enumerate(model.terms.slopes):
        at = base.slopes[number]
        if slope.name in OF_THE_PICTURE or at is None:
            continue
        low, high = float(np.nanmin(slope.values)), float(np.nanmax(slope.values))
        far = high if high - at >= at - low else low
        made = with_value(model, base, number, far)
        yield from _if_open(model, _Change(slope.name, far, at, made, row_of(model, made) - usual), mixed)


def _if_open(model: Model, change: _Change, mixed: set[str]) -> Iterator[_Change]:
    value, sd = model.linear(change.row)
    matters = abs(value) + Z90 * sd > MATTERS_STOPS
    if change.setting in mixed or (matters and abs(value) <= Z90 * sd):
        yield change


def _with_all(model: Model, base: Setup, changes: Sequence[_Change]) -> Setup:
    """The usual setup with several changes at once."""
    codes, slopes = list(base.codes), list(base.slopes)
    for one in changes:
        codes = [new if new != old else kept for new, old, kept in zip(one.made.codes, base.codes, codes, strict=True)]
        slopes = [new if new != old else kept for new, old, kept in zip(one.made.slopes, base.slopes, slopes, strict=True)]
    return Setup(tuple(codes), tuple(slopes), base.light, base.screen, base.paper)


def _narrowed(model: Model, one: _Change, rows: FloatArray, noise: FloatArray) -> Narrowed:
    value, sd = model.linear(one.row)
    then = float(np.sqrt(variance_after(model, one.row, rows, noise)))
    return Narrowed(one.setting, one.value, one.against, from_normal(value, sd), from_normal(value, then))
