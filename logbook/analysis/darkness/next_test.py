"""The one print that would tell most: a single change from the usual settings."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.entanglement import CALENDAR, Pair
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.prediction import Setup, information, row_of, usual, with_level, with_value
from logbook.analysis.darkness.terms import OF_THE_PICTURE, PLACES, Value
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval, from_normal

FloatArray = NDArray[np.float64]

#: The newest prints, so many of them, say what is usual now.
LATELY = 30
#: Half the step of the rating: an effect known to be smaller than this changes no rating worth a print.
MATTERS_STOPS = 0.5 / 3


@dataclass(frozen=True)
class NextTest:
    """Print with ``change``, all else as in ``against``; the interval is that of an effect of the first of ``separates``.

    ``prints_to_halve`` is how many such prints halve it, None where no number does.
    """

    change: dict[str, Value]
    against: dict[str, Value]
    separates: tuple[str, ...]
    interval_now: Interval
    interval_then: Interval
    prints_to_halve: int | None


@dataclass(frozen=True)
class _Target:
    """Something not known well: a row of the model, and how many stops one of its units can make."""

    settings: tuple[str, ...]
    row: FloatArray
    stops_per_unit: float


@dataclass(frozen=True)
class _Candidate:
    name: str
    value: Value
    row: FloatArray


def next_test(model: Model, pairs: Sequence[Pair]) -> NextTest | None:
    """The single change that narrows the widest interesting interval most; None where nothing is left to learn.

    Entangled settings come first; else every setting whose standing is not clear and that may still
    matter is interesting. One further rating at row x turns the covariance S into
    S - S x x' S / (1 / i + x' S x), i being what a rating tells (sequential design: Chaloner & Verdinelli
    1995, Stat. Sci. 10, 273-304).
    """
    widest = max(_targets(model, pairs), key=lambda one: _width(model, one), default=None)
    if widest is None:
        return None
    base = usual_now(model)
    candidates = list(_candidates(model, base, widest.settings if pairs else ()))
    if not candidates:
        return None
    best = min(candidates, key=lambda one: _variance_with(model, widest.row, one.row))
    value, sd = model.linear(widest.row)
    then = float(np.sqrt(_variance_with(model, widest.row, best.row)))
    return NextTest(
        {best.name: best.value},
        base.values(model),
        widest.settings,
        from_normal(value, sd),
        from_normal(value, then),
        _prints_to_halve(model, widest.row, best.row),
    )


def usual_now(model: Model) -> Setup:
    """The settings of most of the newest prints."""
    return usual(model, np.arange(len(model.judged)) >= len(model.judged) - LATELY)


def _targets(model: Model, pairs: Sequence[Pair]) -> Iterator[_Target]:
    for number, factor in enumerate(model.terms.factors):
        settings = _settings_of(factor.name, pairs)
        if len(factor.levels) > 1 and settings:
            for level in range(factor.reported):
                yield from _if_open(model, _Target(settings, model.effect_row(number, level), 1.0), bool(pairs))
    for number, slope in enumerate(model.terms.slopes):
        settings = _settings_of(slope.name, pairs)
        if settings:
            reach = float(np.nanmax(slope.values) - np.nanmin(slope.values))
            yield from _if_open(model, _Target(settings, model.slope_row(number), reach), bool(pairs))


def _settings_of(name: str, pairs: Sequence[Pair]) -> tuple[str, ...]:
    """What a target of that name tells apart: nothing where it is not asked for."""
    for pair in pairs:
        if name in (pair.a, pair.b):
            return pair.a, pair.b
    return () if pairs or name in (*PLACES, *OF_THE_PICTURE) else (name,)


def _if_open(model: Model, target: _Target, entangled: bool) -> Iterator[_Target]:
    value, sd = model.linear(target.row)
    clear = abs(value) > Z90 * sd
    matters = (abs(value) + Z90 * sd) * target.stops_per_unit > MATTERS_STOPS
    if entangled or (matters and not clear):
        yield target


def _width(model: Model, target: _Target) -> float:
    return model.linear(target.row)[1] * target.stops_per_unit


def _candidates(model: Model, base: Setup, entangled: Sequence[str]) -> Iterator[_Candidate]:
    """Every single change that some print has had; another paper, screen or light only where these are entangled.

    A setting that was changed once is told from the calendar by going back to what it was, and by nothing else.
    """
    for number, factor in enumerate(model.terms.factors):
        if (factor.name in PLACES and factor.name not in entangled) or (CALENDAR in entangled and factor.name not in entangled):
            continue
        for level in range(factor.reported):
            if level != base.codes[number]:
                there = row_of(model, with_level(model, base, number, level))
                yield _Candidate(factor.name, factor.levels[level], there)
    for number, slope in enumerate(model.terms.slopes):
        if slope.name in OF_THE_PICTURE or CALENDAR in entangled:
            continue
        for value in (float(np.nanmin(slope.values)), float(np.nanmax(slope.values))):
            if value != base.slopes[number]:
                yield _Candidate(slope.name, value, row_of(model, with_value(model, base, number, value)))


def variance_after(model: Model, target: FloatArray, rows: FloatArray, noise: FloatArray) -> float:
    """Variance of the target once prints at ``rows`` (n, few) are rated, each with what ``noise`` (n, n) leaves unknown."""
    reach = model.fit.covariance @ rows.T
    told = target @ reach
    return max(model.linear(target)[1] ** 2 - float(told @ np.linalg.solve(rows @ reach + noise, told)), 0.0)


def _variance_with(model: Model, target: FloatArray, row: FloatArray, prints: float = 1.0) -> float:
    """Variance of the target after some more ratings of prints at ``row``, each of a picture and a day of its own."""
    return variance_after(model, target, row[None, :], np.array([[1 / (prints * information(model, row))]]))


def _prints_to_halve(model: Model, target: FloatArray, row: FloatArray) -> int | None:
    """Number of prints at ``row`` that halve the interval of the target."""
    goal = model.linear(target)[1] ** 2 / 4
    tried = (*range(1, 20), *range(20, 201, 10))
    return next((prints for prints in tried if _variance_with(model, target, row, float(prints)) <= goal), None)
