"""The places of the program, one module each; a place is imported and built when it is first opened."""

from __future__ import annotations

from typing import NamedTuple


class Spot(NamedTuple):
    """A place: its name, which is also its class's, the module that builds it, its keys, and what it is for."""

    name: str
    module: str
    keys: str
    about: str

    @property
    def mode(self) -> str:
        """The name by which the app opens this place."""
        return self.name.lower()

    @property
    def digit(self) -> str:
        """Its first key."""
        return self.keys.partition(",")[0]


SPOTS = (
    Spot("Today", "today", "1,t,f1", "The printer now, today's prints, and what waits for a judgement."),
    Spot("Prints", "prints.prints", "2,p,f2", "Every print ever logged, searched as you type."),
    Spot("Tone", "tone.tone", "3,f3", "Which settings print darker than the screen."),
    Spot("Ink", "ink.ink", "4,i,f4", "Levels, cartridges, changeovers and what they waste."),
    Spot("Batches", "batches.batches", "5,b,f5", "Orders, the plan, and when to exchange the black."),
    Spot("Month", "month.month", "6,m,f6", "What the month's prints cost, and what changed."),
    Spot("Shelf", "shelf", "7,f7", "Papers, stock, lights, screens and the printer."),
)
