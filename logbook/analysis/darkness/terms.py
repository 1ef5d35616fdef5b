"""What may make a print darker: the settings of the judged prints as factors and slopes."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.records import long_work

FloatArray = NDArray[np.float64]
IntArray = NDArray[np.int64]
TextArray = NDArray[np.object_]
Value = str | bool | int | float

#: A numeric setting with more distinct values than this is a slope.
MOST_NUMERIC_LEVELS = 4
#: Beyond this many levels only the most common are told apart: a level needs prints to say anything.
MOST_LEVELS = 60
#: Beyond this many settings only those noted on most prints are analysed.
MOST_SETTINGS = 40

#: The places of a print that count as settings besides its own.
PLACES = ("paper", "screen", "light")


#: What an inspection found of the picture: it may explain a darkness, but nobody changes it for a test print.
OF_THE_PICTURE = ("mean_l", "shadow_share")


@dataclass(frozen=True)
class Factor:
    """A setting with levels. ``codes`` (prints,) number ``levels``; the first ``reported`` are recorded
    values, those after it (values not recorded, values too rare) are levels that are not reported."""

    name: str
    levels: tuple[Value, ...]
    codes: IntArray
    width: int

    @property
    def reported(self) -> int:
        """Number of levels with a recorded value."""
        return len(self.levels)

    @property
    def counts(self) -> IntArray:
        """Prints of every level, those not reported included."""
        return np.bincount(self.codes, minlength=self.width)


@dataclass(frozen=True)
class Slope:
    """A numeric setting: ``values`` (prints,), NaN where not noted; it enters as (value - centre) / sd."""

    name: str
    values: FloatArray
    centre: float
    sd: float

    @property
    def scaled(self) -> FloatArray:
        """What enters the model; 0 (the average) where not noted."""
        return np.nan_to_num((self.values - self.centre) / self.sd)


@dataclass(frozen=True)
class Terms:
    """Everything that enters the model, and what stays out of it and why.

    ``follows`` are settings that are the same on every print of a paper, ``unvaried`` those of them that
    are the same on every print at all, ``set_aside`` those with too many values to learn from.
    """

    factors: tuple[Factor, ...]
    slopes: tuple[Slope, ...]
    follows: tuple[str, ...] = ()
    unvaried: tuple[str, ...] = ()
    set_aside: tuple[str, ...] = ()
    usual: Mapping[str, Value] = field(default_factory=dict)


def read_terms(settings: Sequence[Mapping[str, Value]], paper: TextArray, screen: TextArray, light: TextArray) -> Terms:
    """Sort the settings of the judged prints (one map each) and their places into factors and slopes."""
    columns, too_many = _columns(settings)
    follows, unvaried, set_aside = [], [], list(too_many)
    factors, slopes = _places(paper, screen, light), []
    _, paper_code = code_levels(paper)
    for name, column in columns.items():
        levels, codes = code_levels(column)
        if _same_within(paper_code, codes):
            follows.append(name)
            if int(codes.min()) == int(codes.max()):
                unvaried.append(name)
        elif len(levels) < 2:
            unvaried.append(name)
        elif _is_slope(levels):
            slope, missing = _slope(name, column)
            slopes.append(slope)
            factors.extend(missing)
        else:
            factor = _factor(name, levels, codes)
            factors.extend([factor] if factor else [])
            set_aside.extend([] if factor else [name])
    return Terms(tuple(factors), tuple(slopes), tuple(follows), tuple(unvaried), tuple(set_aside))


def code_levels(column: Iterable[Value | None]) -> tuple[list[Value], IntArray]:
    """Distinct recorded values in order of first use, and each print's level number; last: not recorded.

    ``True`` and 1 are different values, 1 and 1.0 the same.

    >>> levels, codes = code_levels(["a", None, "b", "a"])
    >>> levels, codes.tolist()
    (['a', 'b'], [0, 2, 1, 0])
    """
    long_work.step()
    column = list(column)
    kinds = set(map(type, column))
    if bool in kinds and kinds & {int, float}:
        keys = dict.fromkeys((isinstance(one, bool), one) for one in column if one is not None)
        number = {key: place for place, key in enumerate(keys)}
        codes = [-1 if one is None else number[isinstance(one, bool), one] for one in column]
        levels: list[Value] = [value for _, value in number]
    else:  # ten times faster, and by far the usual case
        levels = [one for one in dict.fromkeys(column) if one is not None]
        place_of: dict[Value | None, int] = {one: place for place, one in enumerate(levels)}
        codes = [place_of.get(one, -1) for one in column]
    out = np.array(codes, dtype=np.int64)
    out[out < 0] = len(levels)
    return levels, out


def _columns(settings: Sequence[Mapping[str, Value]]) -> tuple[dict[str, list[Value | None]], list[str]]:
    noted: Counter[str] = Counter()
    for one in settings:
        noted.update(one.keys())
    by_use = [name for name, _ in noted.most_common()]
    used = set(by_use[:MOST_SETTINGS])
    kept = [name for name in noted if name in used]
    columns = {_own_name(name): [one.get(name) for one in settings] for name in kept}
    return columns, by_use[MOST_SETTINGS:]


def _own_name(name: str) -> str:
    """A free setting that bears the name of a place gets one of its own."""
    return f"setting {name}" if name in PLACES else name


def _places(paper: TextArray, screen: TextArray, light: TextArray) -> list[Factor]:
    out = []
    for name, column in zip(PLACES, (paper, screen, light), strict=True):
        levels, codes = code_levels(column)
        factor = _factor(name, levels, codes) if len(levels) > 1 else None
        out.extend([factor] if factor else [])
    return out


def _same_within(paper_code: IntArray, codes: IntArray) -> bool:
    """Whether every paper has one level only."""
    papers, levels = int(paper_code.max()) + 1, int(codes.max()) + 1
    seen = np.bincount(paper_code * levels + codes, minlength=papers * levels).reshape(papers, levels) > 0
    return bool((seen.sum(axis=1) <= 1).all())


def _is_slope(levels: Sequence[Value]) -> bool:
    numeric = all(isinstance(one, int | float) and not isinstance(one, bool) for one in levels)
    return numeric and len(levels) > MOST_NUMERIC_LEVELS


def _slope(name: str, column: Sequence[Value | None]) -> tuple[Slope, list[Factor]]:
    """The slope, and where it is not noted everywhere a level of its own for the prints without it."""
    values = np.array([np.nan if one is None else one for one in column], dtype=np.float64)
    slope = Slope(name, values, float(np.nanmean(values)), float(np.nanstd(values)))
    missing = np.isnan(values)
    if not missing.any():
        return slope, []
    return slope, [Factor(name, (), missing.astype(np.int64), 2)]


def _factor(name: str, levels: Sequence[Value], codes: IntArray) -> Factor | None:
    """The factor, its levels the most used first; None where hardly a value was used twice."""
    counts = np.bincount(codes, minlength=len(levels) + 1)
    order = np.argsort(-counts[:-1], kind="stable")
    if len(levels) > MOST_LEVELS:
        order = order[:MOST_LEVELS]
        order = order[counts[order] > 1]
        if 2 * counts[order].sum() < len(codes):
            return None
    place = np.full(len(levels) + 1, -1)
    place[order] = np.arange(len(order))
    coded = place[codes]
    left = coded < 0
    not_recorded = codes == len(levels)
    coded[left & not_recorded] = len(order)
    width = len(order) + int((left & not_recorded).any())
    coded[left & ~not_recorded] = width
    width += int((left & ~not_recorded).any())
    return Factor(name, tuple(levels[one] for one in order), coded, width)
