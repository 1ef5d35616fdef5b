"""Simulated logbooks whose effects are known, for the tests of the darkness answer."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from logbook.analysis.darkness.answer import Darkness, Judged, analyse
from logbook.analysis.darkness.light import Surroundings

SCATTER = 0.15
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
SLOPES = {"shadow_lift": 0.015, "image_ppi": 0.0}
PAPER_SPREAD = 0.2
PAPERS = {"rag": 0.35, "card": 0.25, "satin": 0.2, "gloss": 0.12, "baryta": 0.08}
ILLUMINANCE = {"wall": 400.0, "window": 1200.0}
WHITE = {"desk": 120.0}


@dataclass(frozen=True)
class Simulated:
    """A logbook, the truth it was made from, and the darkness (stops) before scatter of every print."""

    judged: Judged
    place: Surroundings
    effects: dict[str, dict[str | bool, float]]
    expected: NDArray[np.float64]

    def true_effect(self, setting: str, level: str | bool) -> float:
        """Effect of a level against the print-weighted average of its setting."""
        column = list(self.judged.paper) if setting == "paper" else [one[setting] for one in self.judged.settings]
        effects = self.effects[setting]
        return effects[level] - float(np.mean([effects[one] for one in column]))  # type: ignore[index]


def rating_of(stops: NDArray[np.float64]) -> NDArray[np.int64]:
    """The reading of a darkness in thirds, -6 to +6."""
    return np.asarray(np.clip(np.ceil(3 * stops - 0.5), -6, 6), dtype=np.int64)


def simulate(prints: int, rng: np.random.Generator, scatter: float = SCATTER) -> Simulated:
    """A logbook of so many judged prints."""
    effects: dict[str, dict[str | bool, float]] = {
        name: {level: effect for level, (effect, _) in levels.items()} for name, levels in EFFECTS.items()
    }
    effects["paper"] = {name: float(rng.normal(0, PAPER_SPREAD)) for name in PAPERS}
    paper = _choose(rng, dict(PAPERS), prints)
    columns = {
        name: _choose(rng, {level: share for level, (_, share) in levels.items()}, prints) for name, levels in EFFECTS.items()
    }
    numbers = {"shadow_lift": rng.choice(np.arange(0, 30, 3), prints), "image_ppi": np.round(rng.uniform(180, 360, prints))}
    light = _choose(rng, {"wall": 0.6, "window": 0.4}, prints)
    screen = np.array(["desk"] * prints, dtype=object)
    place = Surroundings(ILLUMINANCE, WHITE, {})
    offset = np.array([place.offset(one, "desk", None) for one in light])
    expected = AVERAGE + offset + np.array([effects["paper"][one] for one in paper])
    for name, column in columns.items():
        expected += np.array([effects[name][one] for one in column])
    for name, values in numbers.items():
        expected += SLOPES[name] * values
    seen = expected + scatter * rng.logistic(size=prints)
    settings = [
        {
            **{name: column[row] for name, column in columns.items()},
            **{name: float(values[row]) for name, values in numbers.items()},
        }
        for row in range(prints)
    ]
    return Simulated(Judged(rating_of(seen), paper, screen, light, settings), place, effects, expected)


def _choose(
    rng: np.random.Generator, shares: Mapping[str | bool, float] | Mapping[str, float], prints: int
) -> NDArray[np.object_]:
    levels = list(shares)
    weight = np.array(list(shares.values()))
    out = np.empty(prints, dtype=object)
    out[:] = [levels[one] for one in rng.choice(len(levels), prints, p=weight / weight.sum())]
    return out


@dataclass
class Coverage:
    """How many intervals held the truth, and which settings without effect were called clear."""

    held: list[bool]
    slopes_held: list[bool]
    averages_held: list[bool]
    false_clear: dict[str, list[bool]]

    @property
    def share(self) -> float:
        """Share of effect intervals that held the truth."""
        return float(np.mean(self.held))


def coverage(prints: int, logbooks: int, seed: int) -> Coverage:
    """Analyse so many simulated logbooks and compare with the truth."""
    rng = np.random.default_rng(seed)
    out = Coverage([], [], [], {name: [] for name in (*NO_EFFECT, "image_ppi")})
    for _ in range(logbooks):
        simulated = simulate(prints, rng)
        _compare(simulated, analyse(simulated.judged, simulated.place), out)
    return out


def _compare(simulated: Simulated, found: Darkness, out: Coverage) -> None:
    assert found.average_stops is not None
    for one in found.levels:
        if one.setting != "light":
            assert not isinstance(one.level, int | float) or isinstance(one.level, bool)
            truth = simulated.true_effect(one.setting, one.level)
            out.held.append(not one.effect_stops.excludes(truth))
    for slope in found.slopes:
        out.slopes_held.append(not slope.stops_per_unit.excludes(SLOPES[slope.setting]))
    out.averages_held.append(not found.average_stops.excludes(float(simulated.expected.mean())))
    for name in NO_EFFECT:
        out.false_clear[name].append(any(one.standing == "clear" for one in found.levels if one.setting == name))
    out.false_clear["image_ppi"].append(any(one.standing == "clear" for one in found.slopes if one.setting == "image_ppi"))
