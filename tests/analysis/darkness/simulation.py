"""Simulated logbooks whose effects are known, for the tests of the darkness answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings

AVERAGE = -0.25
#: Effects in stops of every level, and how often it is chosen. The last three settings do nothing.
EFFECTS: dict[str, dict[str | bool, tuple[float, float]]] = {
    "black_point_compensation": {True: (0.0, 0.65), False: (-0.35, 0.35)},
    "intent": {"perceptual": (0.0, 0.7), "relative": (0.15, 0.2), "absolute": (-0.2, 0.07), "saturation": (0.1, 0.03)},
    "surround": {"white": (0.0, 0.8), "dark": (-0.12, 0.2)},
    "bidirectional": {True: (0.0, 0.7), False: (0.0, 0.3)},
    "sharpening": {"near": (0.0, 0.4), "wall": (0.0, 0.3), "far": (0.0, 0.2), "none": (0.0, 0.1)},
    "helper": {"yes": (0.0, 0.5), "no": (0.0, 0.5)},
}
NO_EFFECT = ("bidirectional", "sharpening", "helper")
SLOPES = {"shadow_lift": 0.015, "image_ppi": 0.0, "brighten_stops": 0.8}
PAPER_SPREAD = 0.2
PAPERS = {"rag": 0.35, "card": 0.25, "satin": 0.2, "gloss": 0.12, "baryta": 0.08}
BLACK = {"rag": "matte", "card": "matte", "satin": "photo", "gloss": "photo", "baryta": "photo"}
ILLUMINANCE = {"wall": 400.0, "window": 640.0}
WHITE = {"desk": 120.0}
FIRST_DAY = np.datetime64("2025-01-06")


@dataclass(frozen=True)
class World:
    """What a studio is like beyond its settings; every figure in stops.

    ``attempts``: prints of one picture in a row; ``editions``: the share of prints made again from an old picture's
    recipe; ``reacts``: how much of a seen darkness the next attempt is brightened by; ``longest``: the furthest rating
    ever given, in thirds; ``step``: thirds that a rating is rounded to; ``switched``: the setting without effect
    "helper" changed once, half-way, and ``back`` for so large a share of the log at its end; ``season``: it is used in
    winter more than in summer, and the eye drifts with the year.
    """

    scatter: float = 0.15
    picture: float = 0.0
    day: float = 0.0
    attempts: int = 3
    editions: float = 0.0
    reacts: float = 0.0
    longest: int = 6
    step: int = 1
    eye_drift: float = 0.0
    errors: str = "logistic"
    matte_only: bool = False
    switched: bool = False
    back: float = 0.0
    season: float = 0.0
    lux_known: bool = True
    light_missing: float = 0.0


PLAIN = World()
_BUSY = {"picture": 0.3, "day": 0.15, "reacts": 0.9}
WORLDS: dict[str, World] = {
    "prints alone": PLAIN,
    "pictures differ": World(picture=0.3),
    "a person who reacts": World(picture=0.3, reacts=0.9),
    "days differ": World(day=0.15),
    "all three": World(**_BUSY),  # type: ignore[arg-type]
    "a short scale": World(**_BUSY, longest=2),  # type: ignore[arg-type]
    "editions": World(picture=0.3, editions=0.5),
    "one black only": World(picture=0.3, day=0.1, matte_only=True),
    "an eye that drifts": World(picture=0.2, eye_drift=0.3),
    "a setting switched once": World(picture=0.2, eye_drift=0.3, switched=True),
    "switched, and tried again": World(picture=0.2, eye_drift=0.3, switched=True, back=0.02),
    "switched, and back": World(picture=0.2, eye_drift=0.3, switched=True, back=0.2),
    "seasons": World(picture=0.2, season=0.15),
    "heavy tails": World(**_BUSY, errors="heavy"),  # type: ignore[arg-type]
    "skew": World(**_BUSY, errors="skew"),  # type: ignore[arg-type]
    "whole and half stops": World(**_BUSY, step=0),  # type: ignore[arg-type]
    "lux unknown": World(**_BUSY, lux_known=False),  # type: ignore[arg-type]
    "light not noted on half": World(**_BUSY, light_missing=0.5),  # type: ignore[arg-type]
}


@dataclass(frozen=True)
class Simulated:
    """A logbook, the truth it was made from, and the darkness (stops) before scatter of every print.

    ``before_light`` is the part of it that is of neither settings nor light nor paper: average, picture, day and eye.
    """

    judged: Judged
    place: Surroundings
    effects: dict[str, dict[str | bool, float]]
    expected: NDArray[np.float64]
    world: World = PLAIN
    pictures: Mapping[str, float] = field(default_factory=dict)

    def true_effect(self, setting: str, level: str | bool) -> float:
        """Effect of a level against the print-weighted average of its setting, all else as on the average of the log."""
        column = list(self.judged.paper) if setting == "paper" else [one[setting] for one in self.judged.settings]
        effects = dict(self.effects[setting])
        if self.world.matte_only:
            off = [not one["black_point_compensation"] for one in self.judged.settings]
            depends = self.effects["black_point_compensation"][False]
            if setting == "black_point_compensation":
                effects[False] = depends * float(np.mean(self.judged.black == "matte"))
            if setting == "paper":
                effects = {
                    name: effect + depends * float(np.mean(off)) * (BLACK[str(name)] == "matte")
                    for name, effect in effects.items()
                }
        return float(effects[level] - np.mean([effects[one] for one in column]))  # type: ignore[index]


def rating_of(stops: NDArray[np.float64], step: int = 1, longest: int = 6) -> NDArray[np.int64]:
    """The reading of a darkness in thirds; with step 0 in whole and half stops, of which a half is noted as two thirds."""
    thirds = np.ceil(3 * stops - 0.5) if step else np.round(np.round(2 * stops) * 1.5 + 0.01 * np.sign(stops))
    return np.asarray(np.clip(thirds, -longest, longest), dtype=np.int64)


def simulate(prints: int, rng: np.random.Generator, scatter: float | None = None, world: World = PLAIN) -> Simulated:
    """A logbook of so many judged prints, about eight a bench day, two bench days a week."""
    scatter = world.scatter if scatter is None else scatter
    day, picture = _calendar(prints, rng), _pictures(prints, rng, world)
    effects: dict[str, dict[str | bool, float]] = {
        name: {level: effect for level, (effect, _) in levels.items()} for name, levels in EFFECTS.items()
    }
    effects["paper"] = {name: float(rng.normal(0, PAPER_SPREAD)) for name in PAPERS}
    columns = _settings(prints, rng, world, picture, day)
    paper, light = columns.pop("paper"), columns.pop("light")
    black = np.array([BLACK[one] for one in paper], dtype=object)
    place = Surroundings(ILLUMINANCE, WHITE, {})
    expected = AVERAGE + np.array([place.offset(one, "desk", None) for one in light])
    expected += np.array([effects["paper"][one] for one in paper])
    for name in EFFECTS:
        effect = np.array([effects[name][one] for one in columns[name]])
        expected += effect * (black == "matte") if world.matte_only and name == "black_point_compensation" else effect
    for name in ("shadow_lift", "image_ppi"):
        expected += SLOPES[name] * columns[name].astype(float)
    of_picture = world.picture * rng.normal(size=picture.max() + 1)
    expected += of_picture[picture]
    days, place_of_day = np.unique(day, return_inverse=True)
    expected += (world.day * rng.normal(size=len(days)))[place_of_day] + _eye(prints, day, world)
    error = scatter * _errors(prints, rng, world)
    brighten = _brightened(expected, error, picture, columns, rng, world)
    expected = expected + SLOPES["brighten_stops"] * brighten
    columns["brighten_stops"] = brighten.astype(object)
    rating = rating_of(expected + error, world.step, world.longest)
    kept = np.array([None if rng.random() < world.light_missing else one for one in light], dtype=object)
    settings = [{name: _plain(column[row]) for name, column in columns.items()} for row in range(prints)]
    titles = np.array([f"picture {one}" for one in picture], dtype=object)
    screen = np.full(prints, "desk", dtype=object)
    judged = Judged(rating, paper, screen, kept, titles, black, day, settings)
    known = place if world.lux_known else Surroundings({}, WHITE, {})
    return Simulated(judged, known, effects, expected, world, dict(zip(titles, of_picture[picture], strict=True)))


def _plain(value: object) -> str | bool | float:
    return float(value) if isinstance(value, float | int) and not isinstance(value, bool) else value  # type: ignore[return-value]


def _calendar(prints: int, rng: np.random.Generator) -> NDArray[np.datetime64]:
    per_day = rng.poisson(8, prints) + 1
    bench = np.repeat(np.arange(prints), per_day)[:prints]
    return np.asarray(FIRST_DAY + (bench // 2) * 7 + (bench % 2) * 3, dtype="datetime64[D]")


def _pictures(prints: int, rng: np.random.Generator, world: World) -> NDArray[np.int64]:
    """Attempts follow one another; of editions a print is one of an earlier picture."""
    picture = np.arange(prints) // world.attempts
    for row in np.flatnonzero(rng.random(prints) < world.editions):
        if row:
            picture[row] = picture[rng.integers(0, row)]
    return np.asarray(np.unique(picture, return_inverse=True)[1], dtype=np.int64)


def _settings(
    prints: int, rng: np.random.Generator, world: World, picture: NDArray[np.int64], day: NDArray[np.datetime64]
) -> dict[str, NDArray[np.object_]]:
    columns = {
        name: _choose(rng, {level: share for level, (_, share) in levels.items()}, prints) for name, levels in EFFECTS.items()
    }
    columns["paper"] = _choose(rng, dict(PAPERS), prints)
    columns["light"] = _choose(rng, {"wall": 0.6, "window": 0.4}, prints)
    columns["shadow_lift"] = rng.choice(np.arange(0, 30, 3), prints).astype(object)
    columns["image_ppi"] = np.round(rng.uniform(180, 360, prints)).astype(object)
    if world.editions:  # printed again as it was printed first
        first = np.unique(picture, return_index=True)[1][picture]
        columns = {name: column if name == "light" else column[first] for name, column in columns.items()}
    if world.switched:
        new = (np.arange(prints) >= prints // 2) & (np.arange(prints) < round((1 - world.back) * prints))
        columns["helper"] = np.where(new, "yes", "no").astype(object)
    if world.season:
        winter = 0.5 + 0.4 * np.cos(_year(day))
        columns["helper"] = np.where(rng.random(prints) < winter, "yes", "no").astype(object)
    return columns


def _year(day: NDArray[np.datetime64]) -> NDArray[np.float64]:
    return np.asarray(2 * np.pi * (day - FIRST_DAY).astype(float) / 365.25, dtype=np.float64)


def _eye(prints: int, day: NDArray[np.datetime64], world: World) -> NDArray[np.float64]:
    return world.eye_drift * np.linspace(0, 1, prints) + world.season * np.cos(_year(day))


def _errors(prints: int, rng: np.random.Generator, world: World) -> NDArray[np.float64]:
    """Errors with the spread of a logistic of scale 1 and mean 0."""
    sd = np.pi / np.sqrt(3)
    if world.errors == "heavy":
        return np.asarray(rng.standard_t(3, prints) / np.sqrt(3) * sd)
    if world.errors == "skew":
        return np.asarray((1 - rng.exponential(size=prints)) * sd)
    return rng.logistic(size=prints)


def _brightened(
    expected: NDArray[np.float64],
    error: NDArray[np.float64],
    picture: NDArray[np.int64],
    columns: dict[str, NDArray[np.object_]],
    rng: np.random.Generator,
    world: World,
) -> NDArray[np.float64]:
    """The brightening of every print: now and then some, and more after a dark look where the person reacts."""
    own = np.where(rng.random(len(expected)) < 0.3, rng.choice([0.1, 0.2, 0.3, 0.4, 0.5], len(expected)), 0.0)
    if not world.reacts:
        return own
    for row in range(1, len(expected)):
        if picture[row] == picture[row - 1]:
            seen = expected[row - 1] + SLOPES["brighten_stops"] * own[row - 1] + error[row - 1]
            own[row] = np.clip(np.round(own[row - 1] - world.reacts * seen, 1), -0.5, 1.5)
    return own


def _choose(
    rng: np.random.Generator, shares: Mapping[str | bool, float] | Mapping[str, float], prints: int
) -> NDArray[np.object_]:
    levels = list(shares)
    weight = np.array(list(shares.values()))
    out = np.empty(prints, dtype=object)
    out[:] = [levels[one] for one in rng.choice(len(levels), prints, p=weight / weight.sum())]
    return out
