"""Which settings print darker than the screen."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.darkness.effects import (
    Contrast,
    Dependence,
    LevelEffect,
    SlopeEffect,
    all_rows,
    bar_for,
    contrasts,
    dependences,
    levels,
    slopes,
)
from logbook.analysis.darkness.entanglement import CALENDAR, Pair, entangled
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.next_test import NextTest, next_test
from logbook.analysis.darkness.rating import EXTREME
from logbook.analysis.darkness.terms import PLACES, Terms, read_terms
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval, from_normal
from logbook.analysis.numeric.proportion import wilson
from logbook.analysis.numeric.student import student_quantile

FloatArray = NDArray[np.float64]

#: Fewer judged prints than this say too little about any setting.
FEWEST_PRINTS = 10


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
        return f"All {count} prints were judged alike, so no setting can be seen to matter."
    if bool((np.abs(judged.rating) == EXTREME).all()):
        return f"All {count} prints were judged at the ends of the scale, beyond which nothing can be told."
    return None


def plain_average(judged: Judged) -> Interval | None:
    """Mean of the ratings in stops where no model is fitted; None where it would claim too much.

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
    bar = bar_for([model.linear(row) for row in all_rows(model)])
    return Darkness(
        len(judged),
        share,
        model.average(),
        model.fit.scale,
        tuple(levels(judged, model, mixed, bar)),
        tuple(slopes(model, mixed, bar)),
        tuple(contrasts(model, mixed, bar)),
        tuple(dependences(model, mixed)),
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
