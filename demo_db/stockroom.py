"""The rolls and boxes: which one a print is cut from, and when the next is opened."""

from __future__ import annotations

from datetime import datetime

import msgspec

from demo_db import studio
from logbook.records import Paper, Stock


class Stockroom:
    """The open roll or box of each paper, and every one before it."""

    def __init__(self) -> None:
        self._open: dict[str, Stock] = {}
        self._left: dict[str, float] = {}  # mm of a roll, sheets of a box
        self._finished: list[Stock] = []

    @property
    def stocks(self) -> list[Stock]:
        """Every roll and box, in the order of opening."""
        return sorted([*self._finished, *self._open.values()], key=lambda stock: stock.id)

    def cut(self, paper: Paper, sheet_mm: tuple[float, float], when: datetime) -> str:
        """Take a sheet for one print; opens a new roll or box where the old one is too short. Returns its id."""
        needed = 1 if paper.form == "sheet" else length_used_mm(paper, sheet_mm)
        if self._left.get(paper.id, 0) < needed:
            self._open_next(paper, when)
        self._left[paper.id] -= needed
        return self._open[paper.id].id

    def _open_next(self, paper: Paper, when: datetime) -> None:
        old = self._open.get(paper.id)
        if old is not None:
            self._finished.append(msgspec.structs.replace(old, closed=when))
        self._open[paper.id] = self._unpacked(paper, when)
        self._left[paper.id] = studio.SHEETS_IN_A_BOX if paper.form == "sheet" else paper.length_mm or 0

    def _unpacked(self, paper: Paper, when: datetime) -> Stock:
        number = 1 + sum(stock.paper == paper.id for stock in self._finished)
        width, length = paper.width_mm or 0, paper.length_mm or 0
        pieces = studio.SHEETS_IN_A_BOX if paper.form == "sheet" else 1
        return Stock(
            id=f"{paper.id}-{'box' if paper.form == 'sheet' else 'roll'}-{number:02}",
            paper=paper.id,
            opened=when,
            width_mm=width,
            length_mm=length if paper.form == "roll" else None,
            sheets=pieces if paper.form == "sheet" else None,
            price=round(width * length * pieces / 1e6 * (paper.price_per_m2 or 0), 2),
        )


def length_used_mm(paper: Paper, sheet_mm: tuple[float, float]) -> float:
    """Length of roll that a sheet takes: its longer side across the roll where that fits.

    >>> length_used_mm(studio.PAPER["tideway-rag"], (440, 540))
    440
    """
    short, long = sorted(sheet_mm)
    return short if long <= (paper.width_mm or 0) else long
