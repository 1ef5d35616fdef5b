"""The judged prints put into the rows and columns of the model, what is believed before them, and the fit."""

from __future__ import annotations

import math

import numpy as np

from logbook.analysis.darkness.entanglement import switched
from logbook.analysis.darkness.judged import Judged, rating_bounds
from logbook.analysis.darkness.light import Surroundings, offsets
from logbook.analysis.darkness.model import Depends, Model
from logbook.analysis.darkness.terms import OF_THE_PICTURE, PLACES, Terms, code_levels
from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.crossed import Crossed, crossed
from logbook.analysis.numeric.design import Design
from logbook.analysis.numeric.pooled import Bounds, Fit, Pooled, Prior, ScalePrior, SpreadPrior
from logbook.analysis.numeric.pooling import fit_pooled
from logbook.records import long_work

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]

#: Prints alike in everything noted still differ: by a fifth of a stop, known to a factor of three at most (a logistic
#: scale, 95 %), and never by less than a thirtieth: ratings are read in thirds.
SCATTER = ScalePrior(math.log(0.2), 0.5, 0.03)
#: The scale of ratings ends at two stops: no setting moves prints by much more than one.
SPREADS = SpreadPrior(widest=1.0)
#: The average does not lie far beyond the scale either; this counts for less than one print.
AVERAGE_SD = 2.0
#: The slope on the offset of the light: one stop more light, one stop lighter (Lambert), give or take.
LIGHT_SLOPE, LIGHT_SLOPE_SD = 1.0, 0.5
#: What else may have changed on the day a setting was switched for good: a third of a stop (common practice, no source).
SINCE_SD = 1 / 3
#: A setting kept for fewer prints than this was a trial: nothing else is assumed to have changed with it.
FEWEST_SINCE = 30
#: A shared effect is estimated where this share of prints has it in common with an earlier one; else it counts as scatter.
LEAST_SHARING = 0.25
#: Fewer pictures or days than this say nothing of how much others differ.
FEWEST_LEVELS = 5
#: The papers, the most used ones, on which a setting may matter otherwise than on the rest.
MOST_PAPERS = 12
#: In a log of more bench days pairs of days count as one, and so on: what is solved densely stays small.
MOST_DAYS = 2000


def fit_model(judged: Judged, terms: Terms, place: Surroundings) -> Model:
    """Fit the model; ``ArithmeticError`` where the prints do not determine it."""
    long_work.step(f"comparing the settings of {len(judged):,} prints")
    seen = offsets(place, judged.light, judged.screen, judged.paper)
    known = np.isfinite(seen)
    usual = float(seen[known].mean()) if known.any() else 0.0
    columns = [np.ones(len(judged)), *(one.scaled for one in terms.slopes)]
    light_column = None
    if known.any():
        light_column = len(columns)
        columns.append(np.where(known, seen, usual))
    columns += _since(terms)
    codes, levels = [factor.codes for factor in terms.factors], [factor.width for factor in terms.factors]
    depends = _depends(judged, terms, codes, levels)
    walks = _months(judged)
    few = Design(
        np.column_stack(columns),
        np.column_stack([*codes, *walks]) if codes or walks else np.zeros((len(judged), 0), dtype=np.int64),
        (*levels, *(int(one.max()) + 1 for one in walks)),
        walks=len(walks),
        times={one.column: terms.slopes[one.slope].scaled for one in depends if one.slope is not None},
    )
    day, picture = judged.day, code_levels(judged.picture)[1]
    if judged.again is not None:
        few, day, picture = _with_looks(few, judged, terms, place, light_column)
    design = crossed(few, _shared(_days(day)), _shared(picture))
    months = sum(few.levels[len(few.levels) - len(walks) :])
    fit = _fit(design, judged, len(terms.slopes), light_column)
    return Model(terms, place, judged, design, fit, depends, light_column, usual, months)


def _since(terms: Terms) -> list[FloatArray]:
    """For each setting that was switched for good, whether prints were made after that: what else changed then shows there.

    A setting switched back, now and then, is told apart from it by those prints.
    """
    settings = [factor.codes for factor in terms.factors if factor.name not in PLACES]
    switches = {once.first: len(codes) for codes in settings if (once := switched(codes)) is not None}
    return [
        (np.arange(prints) >= first).astype(np.float64)
        for first, prints in switches.items()
        if min(first, prints - first) >= FEWEST_SINCE
    ]


def _months(judged: Judged) -> list[IntArray]:
    """The months, numbered, in which the prints were made; with looks months later also those in which they were seen.

    Then the eye's drift shows in both, and what is left of the months of printing is the printer's.
    """
    again = judged.again
    made = [judged.day] if again is None else [judged.day, np.asarray(np.maximum(again.seen, judged.day))]
    first, last = judged.day.min(), judged.day.max() if again is None else max(made[-1].max(), again.day.max())
    if first.astype("datetime64[M]") == last.astype("datetime64[M]"):
        return []
    return [np.asarray((one.astype("datetime64[M]") - first.astype("datetime64[M]")).astype(np.int64)) for one in made]


def _with_looks(
    few: Design, judged: Judged, terms: Terms, place: Surroundings, light_column: int | None
) -> tuple[Design, NDArray[np.datetime64], IntArray]:
    """The rows with those of further looks behind: the same print in its own light, seen on its own day.

    A print that was looked at again has an effect of its own in the place of its picture's.
    """
    again = judged.again
    assert again is not None
    made = few.take(again.row)
    codes, covariates = made.codes.copy(), made.covariates.copy()
    codes[:, -1] = (again.day.astype("datetime64[M]") - judged.day.min().astype("datetime64[M]")).astype(np.int64)
    for number, factor in enumerate(terms.factors):
        if factor.name == "light":
            known = {level: code for code, level in enumerate(factor.levels)}
            codes[:, number] = [known.get(one, own) for one, own in zip(again.light, codes[:, number], strict=True)]
    if light_column is not None:
        seen = offsets(place, again.light, judged.screen[again.row], judged.paper[again.row])
        covariates[:, light_column] = np.where(np.isnan(seen), covariates[:, light_column], seen)
    levels = (*few.levels[:-1], max(few.levels[-1], int(codes[:, -1].max()) + 1))
    times = {number: np.concatenate([values, made.times[number]]) for number, values in few.times.items()}
    rows = Design(np.vstack([few.covariates, covariates]), np.vstack([few.codes, codes]), levels, few.walks, times)
    _, picture = code_levels(judged.picture)
    own = picture.copy()
    own[again.row] = picture.max() + 1 + again.row
    return rows, np.concatenate([judged.day, again.day]), np.concatenate([own, own[again.row]])


def _days(day: NDArray[np.datetime64]) -> IntArray:
    """The number of every row's bench day."""
    days, place = np.unique(day, return_inverse=True)
    return np.asarray(place // (1 + (len(days) - 1) // MOST_DAYS), dtype=np.int64)


def _shared(codes: IntArray) -> IntArray | None:
    """The codes, where enough rows share theirs with another to tell what they share."""
    levels = len(np.unique(codes))
    return codes if levels >= FEWEST_LEVELS and len(codes) - levels >= LEAST_SHARING * len(codes) else None


def _depends(judged: Judged, terms: Terms, codes: list[IntArray], levels: list[int]) -> tuple[Depends, ...]:
    """Pairs of every setting with the black and with the paper; their codes go to the end of ``codes``."""
    out = []
    for by, column, most in (("black", judged.black, 2), ("paper", judged.paper, MOST_PAPERS)):
        found, code = code_levels(column)
        common = np.argsort(-np.bincount(code, minlength=len(found))[: len(found)], kind="stable")[:most]
        place = np.full(len(found) + 1, len(common))
        place[common] = np.arange(len(common))
        width = int(place[code].max()) + 1
        if width < 2:
            continue
        on = tuple(str(found[one]) for one in common)
        for number, factor in enumerate(terms.factors):
            if factor.name not in PLACES and factor.reported > 1:
                out.append(Depends(number, None, by, on, width, len(codes)))
                codes.append(factor.codes * width + place[code])
                levels.append(factor.width * width)
        for number, slope in enumerate(terms.slopes):
            if slope.name not in OF_THE_PICTURE:
                out.append(Depends(None, number, by, on, width, len(codes)))
                codes.append(place[code])
                levels.append(width)
    return tuple(out)


def _fit(design: Crossed, judged: Judged, slopes: int, light_column: int | None) -> Fit:
    few = design.few
    centre, precision = np.zeros(few.width), np.zeros(few.width)
    precision[0] = AVERAGE_SD**-2
    if light_column is not None:
        centre[light_column], precision[light_column] = LIGHT_SLOPE, LIGHT_SLOPE_SD**-2
    precision[1 + slopes + (light_column is not None) : few.covariates.shape[1]] = SINCE_SD**-2
    groups = [np.array([1 + number]) for number in range(slopes)]
    groups += [np.arange(few.block(number).start, few.block(number).stop) for number in range(len(few.levels))]
    again = judged.again.rating if judged.again is not None else judged.rating[:0]
    bounds = Bounds(*rating_bounds(np.concatenate([judged.rating, again])))
    try:
        return fit_pooled(Pooled(design, bounds, Prior(centre, precision), groups, SCATTER, SPREADS))
    except np.linalg.LinAlgError as error:
        raise ArithmeticError("the settings cannot be told apart on these prints") from error
