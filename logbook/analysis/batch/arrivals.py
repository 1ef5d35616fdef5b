"""How many prints are ordered on a bench day, from the weeks in which orders were taken.

Orders come in lots and in waves, so that their numbers scatter far more than a Poisson's. What the rate is worth is
therefore found by drawing whole weeks again: the moving parts stay together (Künsch, H. R. (1989), Annals of Statistics
17(3), 1217-1241). Whether the same weeks of last year tell something of the coming ones is learnt from the year itself:
the spread between its blocks of six weeks, less what chance alone spreads (DerSimonian, R. and Laird, N. (1986),
Controlled Clinical Trials 7(3), 177-188), says how far to follow the block that comes round again.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Interval
from logbook.records.fields import BLACKS, Black

__all__ = ["LEAST_WEEKS", "SEASON_WEEKS", "YEAR_WEEKS", "Arrivals"]

Counts = NDArray[np.int64]

YEAR_WEEKS = 52
SEASON_WEEKS = 6
#: With fewer weeks than this nothing is known of how they scatter.
LEAST_WEEKS = 4
REDRAWN = 400


class Arrivals(NamedTuple):
    """Prints of (matte, photo) ordered in each of the last weeks, the oldest first, and the bench days of a week."""

    weeks: Counts
    days_a_week: float

    def rates(self) -> dict[Black, Interval]:
        """Prints of each black per bench day in the coming weeks, with what the weeks leave open.

        >>> rates = Arrivals(np.array([[4, 0], [0, 2], [8, 0], [0, 0]]), 5.0).rates()
        >>> rates["matte"].value, rates["photo"].value
        (0.6, 0.1)
        """
        factor = self.season()
        per_day = self.weeks.mean(axis=0) * factor / self.days_a_week
        drawn = self.drawn(np.random.default_rng(1), REDRAWN, len(self.weeks)).mean(axis=1) / self.days_a_week
        low, high = np.quantile(drawn, [0.05, 0.95], axis=0)
        return {
            black: Interval(
                float(per_day[place]), float(min(low[place], per_day[place])), float(max(high[place], per_day[place]))
            )
            for place, black in enumerate(BLACKS)
        }

    def season(self) -> float:
        """What the coming six weeks bring, as a multiple of the year's mean, as far as last year tells; 1 below a year.

        >>> quiet, busy = np.full((46, 2), 2), np.full((6, 2), 10)
        >>> Arrivals(np.concatenate([busy, quiet]), 5.0).season() > 2
        True
        """
        prints = self.weeks.sum(axis=1).astype(np.float64)
        mean = float(prints.mean())
        if len(prints) < YEAR_WEEKS or mean == 0:
            return 1.0
        blocks = prints[: YEAR_WEEKS // SEASON_WEEKS * SEASON_WEEKS].reshape(-1, SEASON_WEEKS)
        chance = float(blocks.var(axis=1, ddof=1).mean()) / SEASON_WEEKS
        between = max(0.0, float(blocks.mean(axis=1).var(ddof=1)) - chance)
        followed = between / (between + chance) if between else 0.0
        return 1.0 + followed * (float(blocks[0].mean()) / mean - 1.0)

    def drawn(self, draw: np.random.Generator, scenarios: int, weeks: int) -> Counts:
        """Coming weeks drawn from past ones, (scenarios, weeks, 2), scaled by the season."""
        chosen = self.weeks[draw.integers(0, len(self.weeks), (scenarios, weeks))]
        # A fraction of a print becomes the chance of a whole one, which keeps the mean.
        whole: Counts = np.floor(chosen * self.season() + draw.random(chosen.shape)).astype(np.int64)
        return whole
