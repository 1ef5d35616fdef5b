"""The places of the program, one module each; a place is imported and built when it is first opened."""

from __future__ import annotations

from typing import NamedTuple


class Spot(NamedTuple):
    """Where a place stands: its name, its digit, and the module and class that build it."""

    name: str
    digit: str
    module: str
    kind: str

    @property
    def mode(self) -> str:
        """The name by which the app opens this place."""
        return self.name.lower()


SPOTS = tuple(
    Spot(name, str(number), f"logbook.tui.places.{module}", name)
    for number, (name, module) in enumerate(
        (
            ("Today", "today"),
            ("Prints", "prints.prints"),
            ("Tone", "tone.tone"),
            ("Ink", "ink.ink"),
            ("Batches", "batches.batches"),
            ("Month", "month.month"),
            ("Shelf", "shelf"),
        ),
        1,
    )
)
