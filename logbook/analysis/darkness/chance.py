"""The chance that a print is rated darker, with its interval."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from logbook.analysis.darkness.judged import DARKER_BELOW
from logbook.analysis.darkness.light import offsets
from logbook.analysis.darkness.model import Model
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.design import Design
from logbook.analysis.numeric.grouped import logistic
from logbook.analysis.numeric.interval import Z90, Interval

FloatArray = NDArray[np.float64]


def chance_darker(model: Model, number: int, level: int) -> Interval:
    """Chance of a rating of -1 or less for new pictures printed as the log's prints were, with a factor put to a level."""
    rows = _with_level(model, number, level)
    reach, scale = _reach(model, rows.predict(model.fit.theta[: rows.width]))
    each = logistic(reach)
    slope = each * (1 - each) / rows.rows
    return _interval(model, float(each.mean()), rows.total(-slope / scale), float(-slope @ reach))


def chance_of(model: Model, row: FloatArray, more_variance: float | None = None) -> Interval:
    """Chance of a rating of -1 or less for one print, ``row`` (few,) or (width,).

    ``more_variance`` is that of what is not known of it, in stops²: of a new picture and a new day where not given.
    """
    reach, scale = _reach(model, np.array([row @ model.fit.theta[: len(row)]]), more_variance)
    chance = float(logistic(reach)[0])
    slope = chance * (1 - chance)
    return _interval(model, chance, -slope / scale * row, float(-slope * reach[0]))


def _reach(model: Model, eta: FloatArray, more_variance: float | None = None) -> tuple[FloatArray, float]:
    """How far below the edge of "darker" prints lie, in scales of their errors, and that scale.

    A normal spread on top of a logistic one is near to a logistic one with the variance of both.
    """
    more = model.unshared_variance if more_variance is None else more_variance
    scale = math.sqrt(model.fit.scale**2 + 3 * more / math.pi**2)
    return np.asarray((DARKER_BELOW - eta) / scale, dtype=np.float64), scale


def _with_level(model: Model, number: int, level: int) -> Design:
    """The log's prints with one factor, what depends on it, and the light's offset as they would be at a level."""
    few, factor = model.prints_made, model.terms.factors[number]
    codes, covariates = few.codes.copy(), few.covariates
    codes[:, number] = level
    for one in model.depends:
        on = few.codes[:, one.column] % one.width
        if factor.name == "paper":
            on = np.full(few.rows, model.place_of(one, str(factor.levels[level])))
        codes[:, one.column] = on if one.factor is None else codes[:, one.factor] * one.width + on
    if model.light_column is not None and factor.name in ("light", "screen", "paper"):
        columns = {"light": model.judged.light, "screen": model.judged.screen, "paper": model.judged.paper}
        columns[factor.name] = np.full(few.rows, factor.levels[level], dtype=object)
        seen = offsets(model.place, columns["light"], columns["screen"], columns["paper"])
        covariates = covariates.copy()
        covariates[:, model.light_column] = np.where(np.isnan(seen), model.usual_offset, seen)
    return replace(few, covariates=covariates, codes=codes)


def _interval(model: Model, chance: float, by_theta: FloatArray, by_s: float) -> Interval:
    """By the delta method on the log odds, so that the ends stay between 0 and 1."""
    chance = min(max(chance, 1e-9), 1 - 1e-9)
    variance = float(model.fit.variances(by_theta[None, :])[0]) + by_s**2 * model.fit.s_variance
    odds, half = math.log(chance / (1 - chance)), Z90 * math.sqrt(max(variance, 0.0)) / (chance * (1 - chance))
    ends = logistic(np.array([odds - half, odds + half]))
    return Interval(chance, float(ends[0]), float(ends[1]))
