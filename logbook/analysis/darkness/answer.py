"""Which settings print darker than the screen."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from logbook.analysis.darkness.entanglement import Pair, entangled
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import DARKER_BELOW, Judged, Model, fit_model
from logbook.analysis.darkness.next_test import NextTest, next_test
from logbook.analysis.darkness.rating import EXTREME
from logbook.analysis.darkness.terms import Terms, Value, read_terms
from logbook.analysis.numeric.interval import Z75, Z90, Interval, from_normal
from logbook.analysis.numeric.proportion import wilson
from logbook.analysis.numeric.student import student_quantile

Standing = Literal["clear", "leaning", "open"]

#: Fewer judged prints than this say too little about any setting.
FEWEST_PRINTS = 10


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
class Darkness:
    """The analysis of the judged prints. ``model`` is None where they say too little; ``missing`` then says why."""

    prints: int
    share_darker: Interval
    average_stops: Interval | None
    spread_stops: float | None
    levels: tuple[LevelEffect, ...] = ()
    slopes: tuple[SlopeEffect, ...] = ()
    pairs: tuple[Pair, ...] = ()
    next_test: NextTest | None = None
    terms: Terms | None = None
    model: Model | None = None
    missing: str | None = None


def standing_of(value: float, sd: float) -> Standing:
    """Whether an effect is clear of 0 (at 90 %), leaning (75 %) or open.

    >>> standing_of(0.3, 0.1), standing_of(0.15, 0.1), standing_of(0.1, 0.1)
    ('clear', 'leaning', 'open')
    """
    if abs(value) > Z90 * sd:
        return "clear"
    return "leaning" if abs(value) > Z75 * sd else "open"


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
    return Darkness(
        len(judged),
        share,
        model.average(),
        model.fit.scale,
        tuple(_levels(judged, model, mixed)),
        tuple(_slopes(model, mixed)),
        tuple(pairs),
        next_test(model, pairs),
        model.terms,
        model,
        only_one_level(model.terms),
    )


def only_one_level(terms: Terms) -> str | None:
    """The sentence for a log in which nothing was ever changed."""
    if terms.slopes or any(len(factor.levels) > 1 for factor in terms.factors):
        return None
    return "No setting was ever changed between the judged prints, so none can be compared."


def _levels(judged: Judged, model: Model, mixed: set[str]) -> list[LevelEffect]:
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
            standing: Standing = "open" if factor.name in mixed else standing_of(value, sd)
            own.append(
                LevelEffect(
                    factor.name,
                    factor.levels[level],
                    int(factor.counts[level]),
                    int(darker[level]),
                    from_normal(value, sd),
                    model.chance_darker(number, level),
                    standing,
                )
            )
    return [one for own in sorted(out, key=_importance) for one in own]


def _importance(own: Sequence[LevelEffect]) -> tuple[int, float]:
    known = min(("clear", "leaning", "open").index(one.standing) for one in own)
    return known, -max(abs(one.effect_stops.value) for one in own)


def _slopes(model: Model, mixed: set[str]) -> Sequence[SlopeEffect]:
    out = []
    for number, slope in enumerate(model.terms.slopes):
        value, sd = model.linear(model.slope_row(number))
        standing: Standing = "open" if slope.name in mixed else standing_of(value, sd)
        noted = int(np.isfinite(slope.values).sum())
        out.append(SlopeEffect(slope.name, from_normal(value, sd), noted, standing))
    return out


__all__ = [
    "DARKER_BELOW",
    "FEWEST_PRINTS",
    "Darkness",
    "Judged",
    "LevelEffect",
    "SlopeEffect",
    "Surroundings",
    "analyse",
    "standing_of",
]
