"""Logs of ink built by hand: one entry after the other on a clock of hours."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink.account import account
from logbook.analysis.ink.answer import InkUse
from logbook.analysis.ink.draws import AREA
from logbook.analysis.ink.log import CartridgeUse, CleaningDone, Exchange, InkLog, Reading

HOUR = 3_600.0
MATTE, PHOTO = AREA["matte"], AREA["photo"]


class Hand:
    """A log under construction; times are in hours. Levels are typed exactly, so that answers can be worked out."""

    def __init__(self, *inks: str, step: float = 0.001) -> None:
        self.inks, self.step = inks, step
        self.prints: list[tuple[float, float, str]] = []
        self.cartridges: list[CartridgeUse] = []
        self.readings: list[Reading] = []
        self.exchanges: list[Exchange] = []
        self.cleanings: list[CleaningDone] = []

    def cartridge(
        self, ink: str, hour: float = 0.0, ml: float = 100.0, start: float | None = 100.0, removed: float | None = None
    ) -> None:
        """Put one in."""
        gone = None if removed is None else removed * HOUR
        self.cartridges.append(CartridgeUse(f"{ink}-{len(self.cartridges)}", ink, hour * HOUR, ml, gone, start))

    def read(self, hour: float, **levels: float) -> str:
        """Read the gauge; the id."""
        self.readings.append(Reading(f"read-{len(self.readings)}", hour * HOUR, levels))
        return self.readings[-1].id

    def print(self, hour: float, area: float = 1.0, black: str = "matte") -> None:
        """Print so many m²."""
        self.prints.append((hour * HOUR, area, black))

    def clean(self, hour: float, strength: str | None = None) -> None:
        """Clean the head."""
        self.cleanings.append(CleaningDone(hour * HOUR, strength))

    def exchange(
        self,
        hour: float,
        to: str = "photo",
        before: str | None = None,
        after: str | None = None,
        minutes: float | None = None,
        cleanings: int | None = None,
    ) -> None:
        """Exchange the black."""
        old = "matte" if to == "photo" else "photo"
        name = f"change-{len(self.exchanges)}"
        self.exchanges.append(Exchange(name, hour * HOUR, old, to, before, after, minutes, cleanings))

    def log(self) -> InkLog:
        """What was entered."""
        rows = np.array([(at, area) for at, area, _ in self.prints]).reshape(-1, 2)
        return InkLog(
            self.inks,
            self.step,
            rows[:, 0],
            rows[:, 1],
            np.array([black for *_, black in self.prints], dtype=object),
            tuple(self.cartridges),
            tuple(self.readings),
            tuple(self.exchanges),
            tuple(self.cleanings),
        )


def rate(use: InkUse, ink: str, column: object) -> float:
    """The estimate for one column of one ink."""
    return use.fits[ink].rate(column)  # type: ignore[arg-type]


def closes(use: InkUse) -> bool:
    """Whether every ink's account adds up."""
    assert use.fits
    found = [account(fit) for fit in use.fits.values()]
    sums = [one.prints + one.changeovers + one.cleanings + one.idle + one.unlogged + one.unexplained for one in found]
    return sums == pytest.approx([one.used for one in found])
