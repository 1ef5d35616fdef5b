"""How many prints it takes to get one that is kept."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

__all__ = ["LEAST_KEEPERS", "Attempts"]

#: With fewer keepers than this the log tells nothing, and one print is counted for each.
LEAST_KEEPERS = 10


class Attempts(NamedTuple):
    """Prints that were made of one black, and how many of them were kept."""

    prints: int = 0
    keepers: int = 0

    @property
    def told(self) -> bool:
        """Whether the log tells how often a print is made again."""
        return self.keepers >= LEAST_KEEPERS

    @property
    def each(self) -> float:
        """Prints for each keeper, from 1.

        >>> Attempts(36, 20).each, Attempts(12, 3).each
        (1.8, 1.0)
        """
        return self.prints / self.keepers if self.told else 1.0

    def drawn(self, draw: np.random.Generator, scenarios: int) -> NDArray[np.float64]:
        """Possible true values of the prints for each keeper, (scenarios,), drawn given the counts (Jeffreys' prior)."""
        if not self.told:
            return np.ones(scenarios)
        kept = draw.beta(self.keepers + 0.5, max(0, self.prints - self.keepers) + 0.5, scenarios)
        return np.asarray(1.0 / kept)

    def needed(self, draw: np.random.Generator, keepers: int, scenarios: int) -> NDArray[np.float64]:
        """Prints made until so many are kept, (scenarios,): chance included."""
        kept = 1.0 / self.drawn(draw, scenarios)
        return np.asarray(keepers + draw.negative_binomial(max(1, keepers), kept), dtype=np.float64)
