"""Simulated logs of a printer whose every millilitre is known: what the ink analysis is held against."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from logbook.analysis.ink.log import CartridgeUse, CleaningDone, Exchange, InkLog, Reading, black_of

INKS = (
    "matte_black",
    "photo_black",
    "cyan",
    "magenta",
    "yellow",
    "light_cyan",
    "light_magenta",
    "grey",
    "light_grey",
    "violet",
)
DIRECTIONS = (("matte", "photo"), ("photo", "matte"))
DAY = 86_400.0
LOW_ML = 14.0  # more than anything takes at once
CLEANING_FACTOR = {"light": 0.6, "normal": 1.0, "deep": 3.0}


@dataclass(frozen=True)
class Studio:
    """How the simulated printer is used. Spreads are relative: of prints in common over inks and
    of each ink for itself, of exchanges likewise."""

    step: float = 1.0
    read_around: bool = True
    exchanges: int = 8
    days: int = 360
    prints_per_day: float = 3.0
    common_spread: float = 0.2
    own_spread: float = 0.2
    exchange_spread: float = 0.0
    exchange_own_spread: float = 0.0
    days_between_readings: int = 7
    cartridge_ml: float = 330.0


@dataclass
class Truth:
    """What the simulated printer really drew: ml per m², ml per exchange, and ml in all, by ink."""

    area: dict[str, float]
    exchange: dict[tuple[str, tuple[str, str]], float]
    cleaning: dict[str, float]
    used: dict[str, float] = field(default_factory=lambda: dict.fromkeys(INKS, 0.0))

    def total(self, direction: tuple[str, str]) -> float:
        """ml of all inks that one exchange takes."""
        return sum(self.exchange[ink, direction] for ink in INKS)


def simulated(seed: int, studio: Studio) -> tuple[InkLog, Truth]:
    """A log, and the truth behind it."""
    return _Simulation(np.random.default_rng(seed), studio).run()


class _Simulation:
    def __init__(self, rng: np.random.Generator, studio: Studio) -> None:
        self.rng, self.studio = rng, studio
        self.truth = Truth(
            {ink: float(rng.uniform(0.4, 2.0)) for ink in INKS},
            {(ink, way): 0.0 if black_of(ink) == way[0] else float(rng.uniform(3, 9)) for ink in INKS for way in DIRECTIONS},
            {ink: float(rng.uniform(0.5, 1.5)) for ink in INKS},
        )
        self.level = dict.fromkeys(INKS, 100.0)
        self.cartridges = [CartridgeUse(f"{ink}-0", ink, -1.0, studio.cartridge_ml) for ink in INKS]
        self.loaded = {cartridge.ink: n for n, cartridge in enumerate(self.cartridges)}
        self.black = "matte"
        self.prints: list[tuple[float, float, str]] = []
        self.readings: list[Reading] = []
        self.changes: list[Exchange] = []
        self.cleanings: list[CleaningDone] = []

    def run(self) -> tuple[InkLog, Truth]:
        for at, kind, value in sorted(self._events(), key=lambda event: event[0]):
            if kind != "read":
                self._renew(at)
            {"print": self._print, "clean": self._clean, "exchange": self._exchange, "read": self._read}[kind](at, value)
        columns = np.array([(at, area) for at, area, _ in self.prints]).reshape(-1, 2)
        return InkLog(
            INKS,
            self.studio.step,
            columns[:, 0],
            columns[:, 1],
            np.array([black for *_, black in self.prints], dtype=object),
            tuple(self.cartridges),
            tuple(self.readings),
            tuple(self.changes),
            tuple(self.cleanings),
            black_at_start="matte",
        ), self.truth

    def _events(self) -> list[tuple[float, str, float]]:
        rng, studio = self.rng, self.studio
        events: list[tuple[float, str, float]] = []
        for day in range(studio.days):
            made = rng.poisson(studio.prints_per_day)
            events += [
                (day * DAY + 28_800 + rng.uniform(0, 14_400), "print", float(rng.choice([0.06, 0.12, 0.2, 0.35])))
                for _ in range(made)
            ]
            if day % studio.days_between_readings == 0:
                events.append((day * DAY + 25_200, "read", 0.0))
            if rng.random() < 0.02:
                events.append((day * DAY + 25_920, "clean", float(rng.choice(3, p=[0.6, 0.3, 0.1]))))
        for day in rng.choice(np.arange(10, studio.days - 10), studio.exchanges, replace=False):
            at = float(day) * DAY + 50_400
            events.append((at, "exchange", 0.0))
            events += [(at - 600, "read", -1.0), (at + 3_600, "read", 1.0)] if studio.read_around else []
        return events

    def _drawing(self) -> list[str]:
        return [ink for ink in INKS if black_of(ink) in (None, self.black)]

    def _draw(self, ink: str, ml: float) -> None:
        self.level[ink] -= 100.0 * ml / self.studio.cartridge_ml
        self.truth.used[ink] += ml

    def _renew(self, at: float) -> None:
        for ink in INKS:
            if self.level[ink] / 100.0 * self.studio.cartridge_ml < LOW_ML:
                old = self.loaded[ink]
                self.cartridges[old] = replace(self.cartridges[old], removed=at - 60)
                self.loaded[ink] = len(self.cartridges)
                self.cartridges.append(CartridgeUse(f"{ink}-{old}", ink, at - 60, self.studio.cartridge_ml))
                self.level[ink] = 100.0

    def _varied(self, spread: float) -> float:
        return float(self.rng.lognormal(-(spread**2) / 2, spread)) if spread else 1.0

    def _print(self, at: float, area: float) -> None:
        common = self._varied(self.studio.common_spread)
        for ink in self._drawing():
            self._draw(ink, self.truth.area[ink] * area * common * self._varied(self.studio.own_spread))
        self.prints.append((at, area, self.black))

    def _clean(self, at: float, strength: float) -> None:
        name = tuple(CLEANING_FACTOR)[int(strength)]
        for ink in self._drawing():
            self._draw(ink, self.truth.cleaning[ink] * CLEANING_FACTOR[name])
        self.cleanings.append(CleaningDone(at, name))

    def _exchange(self, at: float, _: float) -> None:
        way = (self.black, "photo" if self.black == "matte" else "matte")
        much = max(0.0, 1.0 + self.studio.exchange_spread * float(self.rng.normal()))
        for ink in INKS:
            self._draw(ink, self.truth.exchange[ink, way] * much * self._varied(self.studio.exchange_own_spread))
        self.changes.append(Exchange(f"change-{len(self.changes)}", at, *way, minutes=50.0))
        self.black = way[1]

    def _read(self, at: float, around: float) -> None:
        step = self.studio.step
        levels = {ink: float(np.clip(np.round(level / step) * step, 0, 100)) for ink, level in self.level.items()}
        self.readings.append(Reading(f"read-{len(self.readings)}", at, levels))
        if around > 0:
            before, after = self.readings[-2].id, self.readings[-1].id
            self.changes[-1] = replace(self.changes[-1], before=before, after=after)
