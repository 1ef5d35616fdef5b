"""What the answer says of simulated logbooks, held against the truth they were made from."""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from logbook.analysis.darkness.answer import Darkness, analyse
from tests.analysis.darkness.simulation import NO_EFFECT, PLAIN, SLOPES, Simulated, World, simulate


@dataclass
class Coverage:
    """How many intervals held the truth; of what was called clear, how much has no effect.

    ``logs`` holds the share of effects held of each log: intervals of one log are not independent of one another.
    """

    logs: list[float] = field(default_factory=list)
    slopes: dict[str, list[bool]] = field(default_factory=lambda: {name: [] for name in SLOPES})
    averages: list[bool] = field(default_factory=list)
    called: list[bool] = field(default_factory=list)
    false_clear: dict[str, list[bool]] = field(default_factory=lambda: {name: [] for name in (*NO_EFFECT, "image_ppi")})

    @property
    def share(self) -> float:
        """Share of the effects' intervals that held the truth."""
        return float(np.mean(self.logs))

    @property
    def error(self) -> float:
        """Standard error of that share over the logs simulated."""
        return float(np.std(self.logs, ddof=1) / np.sqrt(len(self.logs))) if len(self.logs) > 1 else float("nan")

    @property
    def wrong(self) -> float:
        """Share of what was called clear that has no effect."""
        return float(np.mean(self.called)) if self.called else 0.0

    def add(self, simulated: Simulated, found: Darkness) -> None:
        """Hold one more answer against its truth; what the light does beyond its offset is not told apart from it."""
        assert found.average_stops is not None
        held = [
            not one.effect_stops.excludes(simulated.true_effect(one.setting, one.level))  # type: ignore[arg-type]
            for one in found.levels
            if one.setting != "light"
        ]
        self.logs.append(float(np.mean(held)))
        for slope in found.slopes:
            self.slopes[slope.setting].append(not slope.stops_per_unit.excludes(SLOPES[slope.setting]))
        self.averages.append(not found.average_stops.excludes(float(simulated.expected.mean())))
        clear = [one.setting for one in found.contrasts if one.standing == "clear" and one.setting != "light"]
        clear += [one.setting for one in found.slopes if one.standing == "clear"]
        self.called += [name in self.false_clear for name in clear]
        for name, seen in self.false_clear.items():
            seen.append(name in clear)


def coverage(prints: int, logbooks: int, seed: int, world: World = PLAIN) -> Coverage:
    """Analyse so many simulated logbooks of a world and compare with the truth."""
    out = Coverage()
    for number in range(logbooks):
        simulated = simulate(prints, np.random.default_rng([seed, number]), world=world)
        out.add(simulated, analyse(simulated.judged, simulated.place))
    return out
