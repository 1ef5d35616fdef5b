"""The ink in the printer: what prints, changeovers and cleanings draw from each cartridge, and what the gauge shows."""

from __future__ import annotations

from datetime import datetime
from random import Random

import msgspec

from demo_db import studio, truth
from logbook.records import Cartridge, Gauge
from logbook.records.fields import BLACK_INK, Black, other_black

LOW_PERCENT = 5.0  # below it, the cartridge is exchanged before the next print
PART_USED = {"cyan": 78.0, "vermilion": 64.0, "grey": 55.0, "matte_black": 82.0}  # as found on the first day


class InkLines:
    """The cartridges in the printer, with what is left in each, in ml."""

    def __init__(self, opened: datetime, rng: Random) -> None:
        self._rng = rng
        self._installed: dict[str, Cartridge] = {}
        self._left_ml: dict[str, float] = {}
        self.finished: list[Cartridge] = []
        self._count = 0
        for ink in truth.ML_PER_M2:
            self._install(ink, opened, PART_USED.get(ink, 100.0))

    @property
    def cartridges(self) -> list[Cartridge]:
        """Every cartridge so far, in the order of installing."""
        return sorted([*self.finished, *self._installed.values()], key=lambda cartridge: cartridge.id)

    def print_area(self, area_m2: float, black: Black) -> float:
        """Draw one print of ``area_m2`` and return the millilitres drawn, all inks together."""
        return sum(self._draw(ink, area_m2 * truth.ML_PER_M2[ink], truth.PRINT_SPREAD) for ink in inks_with(black))

    def exchange_black(self, from_black: Black, to_black: Black) -> None:
        """Draw what a changeover wastes."""
        for ink, ml in truth.CHANGEOVER_ML[from_black, to_black].items():
            self._draw(ink, ml, truth.CHANGEOVER_SPREAD)

    def clean(self, strength: str, black: Black) -> None:
        """Draw what a cleaning wastes."""
        for ink in inks_with(black):
            self._draw(ink, truth.CLEANING_ML[strength], truth.CHANGEOVER_SPREAD)

    def low(self, black: Black, needed_ml: float) -> list[str]:
        """The inks that printing with ``black`` cannot go on with: low, or short of ``needed_ml``."""
        return [ink for ink in inks_with(black) if self._percent(ink) < LOW_PERCENT or self._left_ml[ink] < 1.3 * needed_ml]

    def exchange_cartridge(self, ink: str, when: datetime) -> None:
        """Take out the cartridge of ``ink`` and put in a full one."""
        old = self._installed[ink]
        self.finished.append(_removed(old, when))
        self._install(ink, when, 100.0)

    def gauge(self, gauge_id: str, when: datetime) -> Gauge:
        """What the printer shows now: whole percents."""
        levels = {ink: float(round(self._percent(ink))) for ink in self._left_ml}
        return Gauge(id=gauge_id, printer=studio.PRINTER.id, at=when, levels=levels)

    def _percent(self, ink: str) -> float:
        return 100 * self._left_ml[ink] / studio.CARTRIDGE_ML

    def _draw(self, ink: str, mean_ml: float, spread: float) -> float:
        drawn = mean_ml * max(0.1, self._rng.gauss(1.0, spread))
        self._left_ml[ink] = max(0.0, self._left_ml[ink] - drawn)
        return drawn

    def _install(self, ink: str, when: datetime, start_percent: float) -> None:
        self._count += 1
        self._left_ml[ink] = studio.CARTRIDGE_ML * start_percent / 100
        self._installed[ink] = Cartridge(
            id=f"cartridge-{self._count:03}",
            printer=studio.PRINTER.id,
            ink=ink,
            installed=when,
            nominal_ml=studio.CARTRIDGE_ML,
            price=studio.INK_PRICES[ink],
            start_percent=start_percent,
            lot=f"{when:%y%m}-{self._rng.randint(100, 999)}",
        )


def inks_with(black: Black) -> list[str]:
    """The inks in the lines while ``black`` is loaded: that black and every colour."""
    return [ink for ink in truth.ML_PER_M2 if ink != BLACK_INK[other_black(black)]]


def _removed(cartridge: Cartridge, when: datetime) -> Cartridge:
    return msgspec.structs.replace(cartridge, removed=when)
