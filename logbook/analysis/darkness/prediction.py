"""One print that could be made: its settings, and what the model says of it."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.rating import EXTREME
from logbook.analysis.darkness.terms import OF_THE_PICTURE, PLACES, Value
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.grouped import logistic

FloatArray = NDArray[np.float64]
BoolArray = NDArray[np.bool_]


class UnknownLevelError(ValueError):
    """A setting, or a value of it, of which the judged prints say nothing."""


@dataclass(frozen=True)
class Setup:
    """Settings of one print: level number of each factor, value of each slope (None: not noted), its places."""

    codes: tuple[int, ...]
    slopes: tuple[float | None, ...]
    light: str | None
    screen: str | None
    paper: str | None

    def values(self, model: Model) -> dict[str, Value]:
        """The settings' recorded values by name; what is not noted, and what is the picture's own, is left out."""
        out: dict[str, Value] = {}
        for factor, code in zip(model.terms.factors, self.codes, strict=True):
            if code < factor.reported:
                out[factor.name] = factor.levels[code]
        for slope, value in zip(model.terms.slopes, self.slopes, strict=True):
            if value is not None and slope.name not in OF_THE_PICTURE:
                out[slope.name] = value
        return out


def usual(model: Model, among: BoolArray | None = None) -> Setup:
    """The most common level of everything, among some of the prints where given."""
    weight = np.ones(len(model.judged)) if among is None else among.astype(np.float64)
    codes = tuple(int(np.bincount(one.codes, weight, one.width).argmax()) for one in model.terms.factors)
    slopes = tuple(_usual_value(model, number, weight) for number in range(len(model.terms.slopes)))
    light, screen, paper = (_most(column, weight) for column in (model.judged.light, model.judged.screen, model.judged.paper))
    return Setup(codes, slopes, light, screen, paper)


def changed(model: Model, setup: Setup, name: str, value: Value) -> Setup:
    """The setup with one setting or place changed; ``UnknownLevelError`` where no judged print had it."""
    for number, factor in enumerate(model.terms.factors):
        if factor.name == name and factor.levels:
            for code, level in enumerate(factor.levels):
                if level == value and isinstance(level, bool) == isinstance(value, bool):
                    return with_level(model, setup, number, code)
            raise UnknownLevelError(f"no judged print has {name} = {value}")
    for number, slope in enumerate(model.terms.slopes):
        if slope.name == name and isinstance(value, int | float) and not isinstance(value, bool):
            low, high = float(np.nanmin(slope.values)), float(np.nanmax(slope.values))
            if not low - slope.sd <= value <= high + slope.sd:
                raise UnknownLevelError(f"{name} = {value} is far from the {low:g} to {high:g} of the judged prints")
            return with_value(model, setup, number, float(value))
    raise UnknownLevelError(f"the judged prints say nothing of {name}")


def with_level(model: Model, setup: Setup, number: int, code: int) -> Setup:
    """The setup with one factor at another level."""
    codes = (*setup.codes[:number], code, *setup.codes[number + 1 :])
    factor = model.terms.factors[number]
    if factor.name not in PLACES or code >= factor.reported:
        return replace(setup, codes=codes)
    place = str(factor.levels[code])
    return Setup(
        codes,
        setup.slopes,
        light=place if factor.name == "light" else setup.light,
        screen=place if factor.name == "screen" else setup.screen,
        paper=place if factor.name == "paper" else setup.paper,
    )


def with_value(model: Model, setup: Setup, number: int, value: float) -> Setup:
    """The setup with one slope at another value."""
    name = model.terms.slopes[number].name
    noted = [n for n, factor in enumerate(model.terms.factors) if factor.name == name]
    codes = tuple(0 if n in noted else code for n, code in enumerate(setup.codes))
    slopes = (*setup.slopes[:number], value, *setup.slopes[number + 1 :])
    return replace(setup, codes=codes, slopes=slopes)


def row_of(model: Model, setup: Setup) -> FloatArray:
    """The model's row for a print of a new picture with this setup, made in the newest month of the log, (few,)."""
    row = np.zeros(model.few.width)
    row[0] = 1.0
    row[model.since] = 1.0
    if model.light_column is not None:
        offset = model.place.offset(setup.light, setup.screen, setup.paper)
        row[model.light_column] = offset if np.isfinite(offset) else model.usual_offset
    on = {"paper": setup.paper, "black": model.black_of(setup.paper)}
    for number, (slope, value) in enumerate(zip(model.terms.slopes, setup.slopes, strict=True)):
        row += 0.0 if value is None else (value - slope.centre) * model.slope_row(number, on)
    for number, code in enumerate(setup.codes):
        row += model.level_row_on(number, code, on)
    row[model.steps] = 1.0
    return row


def information(model: Model, row: FloatArray, among_alike: bool = False) -> float:
    """What one rating of a print at ``row`` would tell of its settings, in 1 / stops² (the mean over its ratings).

    A print is also of a picture and of a day that are not known, but for those ``among_alike``: of one picture and day.
    """
    edges = np.concatenate([[-np.inf], (np.arange(-EXTREME, EXTREME) + 0.5) / 3, [np.inf]])
    below = logistic((edges - float(row @ model.fit.theta[: len(row)])) / model.fit.scale)
    slope = below * (1 - below)
    told = float(np.diff(below) @ (slope[1:] + slope[:-1])) / model.fit.scale**2
    told = max(told, 1e-9)  # far beyond the ends of the scale a rating tells nothing
    return told if among_alike else 1 / (1 / told + model.unshared_variance)


def _usual_value(model: Model, number: int, weight: FloatArray) -> float | None:
    slope = model.terms.slopes[number]
    noted = np.isfinite(slope.values)
    values, place = np.unique(slope.values[noted], return_inverse=True)
    counts = np.bincount(place, weight[noted], len(values))
    if 2 * counts.sum() < weight.sum():
        return None
    best = values[counts.argmax()]
    if counts.max() * 5 < counts.sum():  # hardly a value repeats: the middle one stands for them
        best = values[int(np.searchsorted(np.cumsum(counts), counts.sum() / 2))]
    return float(best)


def _most(column: NDArray[np.object_], weight: FloatArray) -> str | None:
    totals: dict[str | None, float] = {}
    for value, count in zip(column, weight, strict=True):
        totals[value] = totals.get(value, 0.0) + float(count)
    return max(totals, key=lambda value: totals[value]) if totals else None
