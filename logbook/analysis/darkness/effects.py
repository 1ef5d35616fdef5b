"""What each setting does: its levels against their average, this instead of that, and where it depends on black or paper."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Literal

import numpy as np

from logbook.analysis.darkness.chance import chance_darker
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.model import Depends, Model
from logbook.analysis.darkness.terms import Value
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z75, Z90, Interval, from_normal

FloatArray = NDArray[np.float64]
Standing = Literal["clear", "leaning", "open"]

#: Of what one answer calls clear, at most this share is expected to be wrong.
MOST_WRONG = 0.1


@dataclass(frozen=True)
class LevelEffect:
    """What one level of a setting does; ``darker`` of its ``prints`` were rated -1 or less."""

    setting: str
    level: Value
    prints: int
    darker: int
    effect_stops: Interval
    chance_darker: Interval
    standing: Standing


@dataclass(frozen=True)
class SlopeEffect:
    """What one unit of a numeric setting does."""

    setting: str
    stops_per_unit: Interval
    prints: int
    standing: Standing


@dataclass(frozen=True)
class Contrast:
    """What a level does instead of its setting's most used one, ``against``; ``prints`` have the level."""

    setting: str
    level: Value
    against: Value
    stops: Interval
    prints: int
    standing: Standing


@dataclass(frozen=True)
class Dependence:
    """What a level does instead of ``against`` on one black or paper (``by``, ``on``), where that clearly differs.

    Of a number ``level`` is the most and ``against`` the least that was tried.
    """

    setting: str
    level: Value
    against: Value
    by: str
    on: str
    stops: Interval


@dataclass(frozen=True)
class Bar:
    """How sure an effect must be to be called clear: beyond ``z`` standard deviations from 0."""

    z: float = Z90

    def standing(self, value: float, sd: float) -> Standing:
        """Whether an effect is clear of 0, leaning (75 %) or open.

        >>> Bar().standing(0.3, 0.1), Bar().standing(0.15, 0.1), Bar().standing(0.1, 0.1)
        ('clear', 'leaning', 'open')
        """
        if abs(value) > self.z * sd:
            return "clear"
        return "leaning" if abs(value) > Z75 * sd else "open"


def bar_for(effects: Sequence[tuple[float, float]]) -> Bar:
    """The bar for all effects of one answer (value, sd): 90 %, and so many sure ones that at most one in ten is wrong.

    Benjamini & Hochberg 1995 (J. R. Stat. Soc. B 57, 289-300): of m effects the k surest are clear where the k-th lies
    outside its interval by chance at most once in 10 m / k times.

    >>> bar_for([(1.0, 0.1), (0.17, 0.1), (0.0, 0.1)]).standing(0.17, 0.1)
    'leaning'
    """
    surest = sorted((abs(value) / sd for value, sd in effects if sd > 0), reverse=True)
    for count in range(len(surest), 0, -1):
        by_chance = math.erfc(surest[count - 1] / math.sqrt(2))
        if by_chance <= MOST_WRONG * count / len(surest):
            return Bar(max(Z90, surest[count - 1] * (1 - 1e-9)))
    return Bar(math.inf if surest else Z90)


def all_rows(model: Model) -> Iterator[FloatArray]:
    """The rows of everything that is compared: each level with its setting's most used one, each number by its unit."""
    for number, factor in enumerate(model.terms.factors):
        yield from (contrast_row(model, number, level) for level in range(1, factor.reported))
    yield from (model.slope_row(number) for number in range(len(model.terms.slopes)))


def contrast_row(model: Model, number: int, level: int, on: Mapping[str, str | None] | None = None) -> FloatArray:
    """The row of what a level does instead of the most used one, on one black or paper where given."""
    return model.level_row_on(number, level, on or {}) - model.level_row_on(number, 0, on or {})


def levels(judged: Judged, model: Model, mixed: set[str], bar: Bar) -> list[LevelEffect]:
    """The levels setting by setting; what is known to matter most comes first."""
    out: list[list[LevelEffect]] = []
    for number, factor in enumerate(model.terms.factors):
        if len(factor.levels) < 2:
            continue
        darker = np.bincount(factor.codes, judged.rating <= -1, factor.width)
        own: list[LevelEffect] = []
        out.append(own)
        for level in range(factor.reported):
            value, sd = model.linear(model.effect_row(number, level))
            own.append(
                LevelEffect(
                    factor.name,
                    factor.levels[level],
                    int(factor.counts[level]),
                    int(darker[level]),
                    from_normal(value, sd),
                    chance_darker(model, number, level),
                    _standing(model, factor.name, factor.levels, bar.standing(value, sd), mixed),
                )
            )
    return [one for own in sorted(out, key=importance) for one in own]


def contrasts(model: Model, mixed: set[str], bar: Bar) -> Iterator[Contrast]:
    for number, factor in enumerate(model.terms.factors):
        for level in range(1, factor.reported):
            value, sd = model.linear(contrast_row(model, number, level))
            compared = factor.levels[level], factor.levels[0]
            standing = _standing(model, factor.name, compared, bar.standing(value, sd), mixed)
            stops, prints = from_normal(value, sd), int(factor.counts[level])
            yield Contrast(factor.name, factor.levels[level], factor.levels[0], stops, prints, standing)


def _standing(model: Model, name: str, compared: Sequence[Value], seen: Standing, mixed: set[str]) -> Standing:
    """The standing as seen, but open where settings cannot be told apart, and never clear where some lux or white is
    unknown: the value assumed in its place may be what seems to differ."""
    if name in mixed:
        return "open"
    place = model.place
    known = {"light": place.illuminance_lx, "screen": place.white_cd_m2, "paper": place.luminance_factor}.get(name)
    alike = known is None or model.light_column is None or len({one in known for one in compared}) == 1
    return seen if alike or seen != "clear" else "leaning"


def dependences(model: Model, mixed: set[str]) -> Iterator[Dependence]:
    """Where a change clearly does something else on one black or paper than on average; of two blacks both are told."""
    for by in ("black", "paper"):
        tried = [
            (one, change, on)
            for one in model.depends
            if one.by == by
            for change in _changes(model, one)
            if change.setting not in mixed
            for on in (one.on[:1] if by == "black" else one.on)
        ]
        off = [model.linear(change.row({by: on}) - change.row({})) for _, change, on in tried]
        bar = bar_for(off)
        for (one, change, on), differs in zip(tried, off, strict=True):
            for told in (one.on if by == "black" else (on,)) if bar.standing(*differs) == "clear" else ():
                stops = from_normal(*model.linear(change.row({by: told})))
                yield Dependence(change.setting, change.level, change.against, by, told, stops)


@dataclass(frozen=True)
class _Change:
    """A setting put from ``against`` to ``level``: of a number from its least to its most. ``row`` takes a black or paper."""

    setting: str
    level: Value
    against: Value
    row: Callable[[Mapping[str, str | None]], FloatArray]


def _changes(model: Model, one: Depends) -> Iterator[_Change]:
    if one.slope is not None:
        slope, number = model.terms.slopes[one.slope], one.slope
        low, high = float(np.nanmin(slope.values)), float(np.nanmax(slope.values))
        yield _Change(slope.name, high, low, lambda on: (high - low) * model.slope_row(number, on))
    if one.factor is not None:
        factor = model.terms.factors[one.factor]
        for level in range(1, factor.reported):
            row = partial(contrast_row, model, one.factor, level)
            yield _Change(factor.name, factor.levels[level], factor.levels[0], row)


def importance(own: Sequence[LevelEffect]) -> tuple[int, float]:
    known = min(("clear", "leaning", "open").index(one.standing) for one in own)
    return known, -max(abs(one.effect_stops.value) for one in own)


def slopes(model: Model, mixed: set[str], bar: Bar) -> Sequence[SlopeEffect]:
    out = []
    for number, slope in enumerate(model.terms.slopes):
        value, sd = model.linear(model.slope_row(number))
        standing: Standing = "open" if slope.name in mixed else bar.standing(value, sd)
        noted = int(np.isfinite(slope.values).sum())
        out.append(SlopeEffect(slope.name, from_normal(value, sd), noted, standing))
    return out
