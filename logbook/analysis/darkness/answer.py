"""Which settings print darker than the screen."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from logbook.analysis.darkness.chance import chance_darker
from logbook.analysis.darkness.entanglement import CALENDAR, Pair, entangled
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import Depends, Model
from logbook.analysis.darkness.next_test import NextTest, next_test
from logbook.analysis.darkness.rating import EXTREME
from logbook.analysis.darkness.terms import PLACES, Terms, Value, read_terms
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z75, Z90, Interval, from_normal
from logbook.analysis.numeric.proportion import wilson
from logbook.analysis.numeric.student import student_quantile

FloatArray = NDArray[np.float64]
Standing = Literal["clear", "leaning", "open"]

#: Fewer judged prints than this say too little about any setting.
FEWEST_PRINTS = 10
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
    """What a level does instead of ``against`` on one black or paper (``by``, ``on``), where that clearly differs."""

    setting: str
    level: Value
    against: Value
    by: str
    on: str
    stops: Interval


@dataclass(frozen=True)
class Darkness:
    """The analysis of the judged prints. ``model`` is None where they say too little; ``missing`` then says why."""

    prints: int
    share_darker: Interval
    average_stops: Interval | None
    spread_stops: float | None
    levels: tuple[LevelEffect, ...] = ()
    slopes: tuple[SlopeEffect, ...] = ()
    contrasts: tuple[Contrast, ...] = ()
    depends: tuple[Dependence, ...] = ()
    pairs: tuple[Pair, ...] = ()
    next_test: NextTest | None = None
    terms: Terms | None = None
    model: Model | None = None
    missing: str | None = None


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


def analyse(judged: Judged, place: Surroundings) -> Darkness:
    """Effects of all settings on the darkness of the judged prints, with what the prints cannot tell."""
    darker = int((judged.rating <= -1).sum())
    share = wilson(darker, len(judged))
    missing = what_is_missing(judged)
    if missing is None:
        terms = read_terms(judged.settings, judged.paper, judged.screen, judged.light)
        try:
            model = fit_model(judged, terms, place)
        except ArithmeticError as error:
            missing = f"The calculation came to no end: {error}."
        else:
            return _answer(judged, share, model)
    return Darkness(len(judged), share, plain_average(judged), None, missing=missing)


def what_is_missing(judged: Judged) -> str | None:
    """Why these prints cannot tell settings apart, as a sentence; None where they may."""
    count = len(judged)
    if count == 0:
        return "No print has a judgement with a darkness yet: judge some against the screen."
    if count < FEWEST_PRINTS:
        more = FEWEST_PRINTS - count
        return (
            f"{count} print{'s are' if count > 1 else ' is'} judged; "
            f"{more} more will do to compare settings, best on different settings."
        )
    if bool((judged.rating == judged.rating[0]).all()):
        return f"All {count} prints were rated alike, so no setting can be seen to matter."
    if bool((np.abs(judged.rating) == EXTREME).all()):
        return f"All {count} prints were rated at the ends of the scale, beyond which nothing can be told."
    return None


def plain_average(judged: Judged) -> Interval | None:
    """Mean of the ratings in stops where no model is fitted; None where it would pretend.

    Ratings that are all alike are known to half a step of the scale; at its open ends nothing is known.
    """
    if len(judged) == 0 or bool((np.abs(judged.rating) == EXTREME).any()):
        return None
    stops = judged.rating / 3
    mean = float(stops.mean())
    if bool((judged.rating == judged.rating[0]).all()):
        return Interval(mean, mean - 0.5 / 3, mean + 0.5 / 3)
    spread = float(np.sqrt(stops.var(ddof=1) / len(stops)))
    return from_normal(mean, spread, student_quantile(len(stops) - 1))


def _answer(judged: Judged, share: Interval, model: Model) -> Darkness:
    pairs = entangled(model.terms)
    mixed = {name for pair in pairs for name in (pair.a, pair.b)}
    pairs = [pair for pair in pairs if not (pair.b == CALENDAR and pair.a in PLACES)]  # a place is no setting to go back to
    bar = bar_for([model.linear(row) for row in _all_rows(model)])
    return Darkness(
        len(judged),
        share,
        model.average(),
        model.fit.scale,
        tuple(_levels(judged, model, mixed, bar)),
        tuple(_slopes(model, mixed, bar)),
        tuple(_contrasts(model, mixed, bar)),
        tuple(_dependences(model, mixed)),
        tuple(pairs),
        next_test(model, pairs),
        model.terms,
        model,
        only_one_level(model.terms),
    )


def _all_rows(model: Model) -> Iterator[FloatArray]:
    """The rows of everything that is compared: each level with its setting's most used one, each number by its unit."""
    for number, factor in enumerate(model.terms.factors):
        yield from (contrast_row(model, number, level) for level in range(1, factor.reported))
    yield from (model.slope_row(number) for number in range(len(model.terms.slopes)))


def contrast_row(model: Model, number: int, level: int, on: Mapping[str, str | None] | None = None) -> FloatArray:
    """The row of what a level does instead of the most used one, on one black or paper where given."""
    return model.level_row_on(number, level, on or {}) - model.level_row_on(number, 0, on or {})


def only_one_level(terms: Terms) -> str | None:
    """The sentence for a log in which nothing was ever changed."""
    if terms.slopes or any(len(factor.levels) > 1 for factor in terms.factors):
        return None
    return "No setting was ever changed between the judged prints, so none can be compared."


def _levels(judged: Judged, model: Model, mixed: set[str], bar: Bar) -> list[LevelEffect]:
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
                    "open" if factor.name in mixed else bar.standing(value, sd),
                )
            )
    return [one for own in sorted(out, key=_importance) for one in own]


def _contrasts(model: Model, mixed: set[str], bar: Bar) -> Iterator[Contrast]:
    for number, factor in enumerate(model.terms.factors):
        for level in range(1, factor.reported):
            value, sd = model.linear(contrast_row(model, number, level))
            standing: Standing = "open" if factor.name in mixed else bar.standing(value, sd)
            stops, prints = from_normal(value, sd), int(factor.counts[level])
            yield Contrast(factor.name, factor.levels[level], factor.levels[0], stops, prints, standing)


def _dependences(model: Model, mixed: set[str]) -> Iterator[Dependence]:
    """Where a level clearly does other on one black or paper than on the average; of two blacks both are told."""
    for by in ("black", "paper"):
        tried = [
            (one, level, on)
            for one in model.depends
            if one.by == by and model.terms.factors[one.factor].name not in mixed
            for level in range(1, model.terms.factors[one.factor].reported)
            for on in (one.on[:1] if by == "black" else one.on)
        ]
        off = [model.linear(_contrast_on(model, *what) - contrast_row(model, what[0].factor, what[1])) for what in tried]
        bar = bar_for(off)
        for (one, level, on), differs in zip(tried, off, strict=True):
            for told in (one.on if by == "black" else (on,)) if bar.standing(*differs) == "clear" else ():
                factor = model.terms.factors[one.factor]
                stops = from_normal(*model.linear(_contrast_on(model, one, level, told)))
                yield Dependence(factor.name, factor.levels[level], factor.levels[0], by, told, stops)


def _contrast_on(model: Model, one: Depends, level: int, on: str) -> FloatArray:
    return contrast_row(model, one.factor, level, {one.by: on})


def _importance(own: Sequence[LevelEffect]) -> tuple[int, float]:
    known = min(("clear", "leaning", "open").index(one.standing) for one in own)
    return known, -max(abs(one.effect_stops.value) for one in own)


def _slopes(model: Model, mixed: set[str], bar: Bar) -> Sequence[SlopeEffect]:
    out = []
    for number, slope in enumerate(model.terms.slopes):
        value, sd = model.linear(model.slope_row(number))
        standing: Standing = "open" if slope.name in mixed else bar.standing(value, sd)
        noted = int(np.isfinite(slope.values).sum())
        out.append(SlopeEffect(slope.name, from_normal(value, sd), noted, standing))
    return out


__all__ = [
    "FEWEST_PRINTS",
    "Darkness",
    "Judged",
    "LevelEffect",
    "SlopeEffect",
    "Surroundings",
    "analyse",
]
