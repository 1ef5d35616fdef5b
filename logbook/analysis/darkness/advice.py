"""What to expect of a next print, and what would bring it to the screen."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from logbook.analysis.darkness.chance import chance_of
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.prediction import Setup, UnknownLevelError, changed, row_of, usual
from logbook.analysis.darkness.terms import Terms, Value
from logbook.analysis.numeric.interval import Z90, Interval, from_normal

BRIGHTEN = "brighten_stops"
#: A print brightened by a stop is a stop lighter, give or take (what the word means; as for the light).
BRIGHTENING, BRIGHTENING_SD = 1.0, 0.5
#: With less effect than this, brightening is no way to move a print.
LEAST_BRIGHTENING = 0.25
#: How far a suggestion may go beyond the brightenings tried (common practice, no source).
MOST_UNTRIED_STOPS = 1.0
#: An expectation known no better than this (high less low, in stops) supports no suggestion.
WIDEST_STOPS = 1.0
#: With fewer judged prints on the paper than this, nothing is suggested.
FEWEST_ON_PAPER = 3


@dataclass(frozen=True)
class Advice:
    """A next print's expected darkness and what to brighten it by (None where the log does not support it; ``why``).

    ``expected_stops`` is the mean of such prints, ``print_stops`` where the print itself falls nine times in ten.
    ``brighten_stops`` is the value to give the setting, ``current`` the value it has where nothing is changed; ``limited``
    says that it stops short of bringing the expectation to zero, at what the log supports. ``assumes`` are the settings and
    places it is for, ``tried`` the lowest and highest brightening in the log. ``picture_stops`` is what the picture's earlier
    prints say of it, None of a new one.
    """

    expected_stops: Interval
    print_stops: Interval
    chance_darker: Interval
    brighten_stops: Interval | None
    current: float
    prints_on_paper: int
    assumes: dict[str, Value]
    picture_stops: Interval | None = None
    limited: bool = False
    tried: tuple[float, float] | None = None
    why: str | None = None


def advise(
    model: Model,
    paper: str,
    values: Mapping[str, Value],
    picture: str | None = None,
    day: np.datetime64 | None = None,
) -> Advice:
    """Advice for a next print on ``paper`` with its usual settings, changed to ``values``.

    Of a ``picture`` and on a ``day`` that the log knows, what their earlier prints showed is used.
    ``UnknownLevelError`` names a paper, setting or value of which no judged print tells.
    """
    on_paper = np.asarray(model.judged.paper == paper)
    prints = int(on_paper.sum())
    if not prints:
        raise UnknownLevelError("no print on this paper has been judged")
    setup = usual(model, on_paper)
    for name, value in values.items():
        if name not in _carried_by_paper(model.terms):
            setup = _with(model, setup, name, value)
    row = np.zeros(model.design.width)
    row[: model.few.width] = row_of(model, setup)
    known = [model.column_of_picture(picture), model.column_of_day(day)]
    for column in known:
        if column is not None:
            row[column] = 1.0
    left_out = sum(model.spreads[name] ** 2 for name, column in zip(("picture", "day"), known, strict=True) if column is None)
    value, sd = model.linear(row)
    advice = Advice(
        from_normal(value, sd),
        from_normal(value, math.sqrt(sd**2 + left_out + model.spreads["print"] ** 2)),
        chance_of(model, row, left_out + sd**2),
        None,
        _current(model, setup, values),
        prints,
        setup.values(model),
        _of_picture(model, known[0]),
    )
    return _with_brightening(model, advice)


def _of_picture(model: Model, column: int | None) -> Interval | None:
    if column is None:
        return None
    row = np.zeros(model.design.width)
    row[column] = 1.0
    return from_normal(*model.linear(row))


def _carried_by_paper(terms: Terms) -> set[str]:
    return set(terms.follows) | set(terms.unvaried) | set(terms.set_aside) | {"paper"}


def _with(model: Model, setup: Setup, name: str, value: Value) -> Setup:
    """As ``changed``; a screen or light that never varied needs no change to be what it was."""
    if name in ("screen", "light") and value == getattr(setup, name):
        return setup
    if name == BRIGHTEN and not _in_model(model, name):
        return setup
    return changed(model, setup, name, value)


def _in_model(model: Model, name: str) -> bool:
    return name in {one.name for one in model.terms.factors} | {one.name for one in model.terms.slopes}


def _current(model: Model, setup: Setup, values: Mapping[str, Value]) -> float:
    """The brightening the print would have already."""
    given = values.get(BRIGHTEN, setup.values(model).get(BRIGHTEN, 0.0))
    return float(given) if isinstance(given, int | float) else 0.0


def _with_brightening(model: Model, advice: Advice) -> Advice:
    """The brightening with the least expected squared difference.

    Where the effect is not known well, this is a little less than what would bring the mean to zero.
    """

    def refused(why: str) -> Advice:
        return replace(advice, why=why)

    expected = advice.expected_stops
    if advice.prints_on_paper < FEWEST_ON_PAPER:
        return refused(f"fewer than {FEWEST_ON_PAPER} prints on this paper are judged")
    if expected.width > WIDEST_STOPS:
        return refused("the expectation is known to no better than a stop")
    effect, sd, tried = _brightening(model)
    if effect < LEAST_BRIGHTENING:
        return refused("in this log brightening the file made no print lighter")
    needed = -expected.value * effect / (effect**2 + sd**2)
    half = math.hypot((expected.high - expected.value) / Z90, needed * sd) / effect * Z90
    low, high = tried or (0.0, 0.0)
    wanted = advice.current + needed
    held = min(max(wanted, low - MOST_UNTRIED_STOPS), high + MOST_UNTRIED_STOPS)
    suggestion = Interval(held, held - half, held + half)
    return replace(advice, brighten_stops=suggestion, limited=not math.isclose(held, wanted), tried=tried)


def _brightening(model: Model) -> tuple[float, float, tuple[float, float] | None]:
    """Stops lighter for a stop of brightening, its sd, and the lowest and highest tried: log and prior together."""
    for number, slope in enumerate(model.terms.slopes):
        if slope.name == BRIGHTEN:
            tried = float(np.nanmin(slope.values)), float(np.nanmax(slope.values))
            return (*_with_prior(*model.linear(model.slope_row(number))), tried)
    for number, factor in enumerate(model.terms.factors):
        levels = [float(one) for one in factor.levels if isinstance(one, int | float)]
        if factor.name == BRIGHTEN and len(levels) == factor.reported > 1:
            low, high = int(np.argmin(levels)), int(np.argmax(levels))
            step = model.effect_row(number, high) - model.effect_row(number, low)
            return (*_with_prior(*model.linear(step / (levels[high] - levels[low]))), (levels[low], levels[high]))
    return BRIGHTENING, BRIGHTENING_SD, None


def _with_prior(value: float, sd: float) -> tuple[float, float]:
    log_weight, prior_weight = max(sd, 1e-6) ** -2, BRIGHTENING_SD**-2
    together = log_weight + prior_weight
    return (value * log_weight + BRIGHTENING * prior_weight) / together, together**-0.5
