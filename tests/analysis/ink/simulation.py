"""Simulated logs of a printer whose every millilitre is known: what the ink analysis is held against."""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from logbook.analysis.ink.content import Weighed, content_told
from logbook.analysis.ink.log import CartridgeUse, CleaningDone, Exchange, InkLog, Reading, black_of
from logbook.analysis.ink.unlogged import Batch, Unlogged, share_unlogged

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
    of each ink for itself, of changeovers likewise.

    ``unlogged`` prints of all are never written down, the ink of ``noted`` of the others is; by itself the printer draws
    ``idle_ml`` a day, at any hour or always at noon, and ``spell_ml`` when it is used again after more than ``spell_days``,
    of every ink in the lines. Prints are made on ``bench_days`` of a week, and in none of the ``holidays`` of two weeks; one
    on photo paper takes ``photo_factor`` times as much. A cartridge gives ``gives`` times what it is said to hold; ``weighed``
    of those that come out are weighed, a few percent off.
    """

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
    unlogged: float = 0.0
    idle_ml: float = 0.0
    idle_at_noon: bool = False
    spell_ml: float = 0.0
    spell_days: float = 6.0
    photo_factor: float = 1.0
    noted: float = 0.0
    gives: float = 1.0
    weighed: int = 0
    holidays: int = 0
    bench_days: int = 7


@dataclass
class Truth:
    """What the simulated printer really drew: ml per m², ml per changeover, and ml in all, by ink."""

    area: dict[str, float]
    exchange: dict[tuple[str, tuple[str, str]], float]
    cleaning: dict[str, float]
    idle: dict[str, float] = field(default_factory=dict)
    photo_factor: float = 1.0
    used: dict[str, float] = field(default_factory=lambda: dict.fromkeys(INKS, 0.0))

    def total(self, direction: tuple[str, str]) -> float:
        """ml of all inks that one changeover takes."""
        return sum(self.exchange[ink, direction] for ink in INKS)

    def rate(self, ink: str, black: str) -> float:
        """ml per m² printed with that black."""
        return self.area[ink] * (self.photo_factor if black == "photo" else 1.0)


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
        if studio.idle_ml or studio.spell_ml:
            self.truth.idle = {ink: float(rng.uniform(0.5, 1.5)) for ink in INKS}
        self.truth.photo_factor = studio.photo_factor
        self.weighed: list[Weighed] = []
        self.balance = float(rng.normal(1.0, 0.02)) if studio.weighed else 1.0
        self.used_at = 0.0
        self.ml: list[float] = []
        self.logged: list[bool] = []
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
                self._wake(at) if kind != "day" else None
            {"print": self._print, "clean": self._clean, "exchange": self._exchange, "read": self._read, "day": self._day}[kind](
                at, value
            )
        content = content_told(self.weighed)
        times = 1.0 if content is None else content.times.value
        columns = np.array([(at, area) for at, area, _ in self.prints]).reshape(-1, 2)
        return InkLog(
            INKS,
            self.studio.step,
            columns[:, 0],
            columns[:, 1],
            np.array([black for *_, black in self.prints], dtype=object),
            tuple(replace(one, nominal_ml=times * one.nominal_ml) for one in self.cartridges),
            tuple(self.readings),
            tuple(self.changes),
            tuple(self.cleanings),
            black_at_start="matte",
            print_ml=np.array(self.ml),
            unlogged=self._audit() if self.studio.unlogged else None,
            content=content,
        ), self.truth

    def _audit(self) -> Unlogged | None:
        """What the finished boxes say: two in three of them, of 25 sheets each, made one after the other."""
        boxes = [self.logged[n : n + 25] for n in range(0, len(self.logged) - 24, 25)]
        return share_unlogged([Batch(25.0, float(sum(box))) for n, box in enumerate(boxes) if n % 3], "paper")

    def _events(self) -> list[tuple[float, str, float]]:
        rng, studio = self.rng, self.studio
        events: list[tuple[float, str, float]] = []
        away = {first + n for first in rng.choice(studio.days, studio.holidays) for n in range(14)} if studio.holidays else set()
        for day in range(studio.days):
            made = rng.poisson(studio.prints_per_day) if day not in away and day % 7 < studio.bench_days else 0
            if studio.idle_ml:
                moment = 43_200.5 if studio.idle_at_noon else float(rng.uniform(0.0, DAY))
                events.append((day * DAY + moment, "day", 0.0))
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
        self.level[ink] -= 100.0 * ml / (self.studio.cartridge_ml * self.studio.gives)
        self.truth.used[ink] += ml

    def _renew(self, at: float) -> None:
        for ink in INKS:
            if self.level[ink] / 100.0 * self.studio.cartridge_ml < LOW_ML:
                self._weigh(self.level[ink])
                old = self.loaded[ink]
                self.cartridges[old] = replace(self.cartridges[old], removed=at - 60)
                self.loaded[ink] = len(self.cartridges)
                self.cartridges.append(CartridgeUse(f"{ink}-{old}", ink, at - 60, self.studio.cartridge_ml))
                self.level[ink] = 100.0

    def _weigh(self, level: float) -> None:
        """The gauge's last number beside what the balance says is gone: it and the density are off alike each time."""
        if len(self.weighed) < self.studio.weighed:
            drawn = (
                (100.0 - level) / 100.0 * self.studio.cartridge_ml * self.studio.gives * self.balance * self.rng.normal(1.0, 0.02)
            )
            shown = round(level / self.studio.step) * self.studio.step
            ml = self.studio.cartridge_ml / 100.0
            self.weighed.append(Weighed(float(drawn), ml * (100.0 - shown), ml * self.studio.step))

    def _varied(self, spread: float) -> float:
        return float(self.rng.lognormal(-(spread**2) / 2, spread)) if spread else 1.0

    def _day(self, at: float, _: float) -> None:
        for ink in self._drawing():
            self._draw(ink, self.studio.idle_ml * self.truth.idle[ink])

    def _wake(self, at: float) -> None:
        if self.studio.spell_ml and at - self.used_at > self.studio.spell_days * DAY:
            for ink in self._drawing():
                self._draw(ink, self.studio.spell_ml * self.truth.idle[ink])
        self.used_at = at

    def _print(self, at: float, area: float) -> None:
        common = self._varied(self.studio.common_spread)
        before = sum(self.truth.used.values())
        for ink in self._drawing():
            self._draw(ink, self.truth.rate(ink, self.black) * area * common * self._varied(self.studio.own_spread))
        self.logged.append(not (self.studio.unlogged and self.rng.random() < self.studio.unlogged))
        if not self.logged[-1]:
            return
        self.prints.append((at, area, self.black))
        noted = self.studio.noted and self.rng.random() < self.studio.noted
        self.ml.append(sum(self.truth.used.values()) - before if noted else np.nan)

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
