"""What a cartridge really gives, from those whose left-over ink was weighed: all millilitres rest on it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.interval import Z90, Interval

__all__ = ["Content", "Weighed", "content_told"]

#: How far a balance, an ink's density and what is filled in may lie off, in all cartridges alike and in each for itself
#: (common practice, no source for the figures).
ALIKE, EACH = 0.02, 0.02


@dataclass(frozen=True)
class Weighed:
    """A cartridge that gave ``drawn_ml`` (> 0) while the gauge fell by ``said_ml`` (> 0) of what it is said to hold."""

    drawn_ml: float
    said_ml: float
    step_ml: float


@dataclass(frozen=True)
class Content:
    """Cartridges give ``times`` what they are said to hold, by so many ``cartridges``."""

    times: Interval
    cartridges: int

    @property
    def relative_sd(self) -> float:
        """How unsure that is."""
        return self.times.width / (2.0 * Z90 * self.times.value)

    def drawn(self, count: int) -> NDArray[np.float64]:
        """Plausible values as a share of ``times`` (count,); the same each time."""
        return np.asarray(np.random.default_rng(count).normal(1.0, self.relative_sd, count))


def content_told(weighed: Sequence[Weighed]) -> Content | None:
    """The ratio over all of them (Cochran, Sampling Techniques, 3rd ed. 1977, ch. 6); None without any.

    Readings at both ends are off by the gauge's rounding. Three or more cartridges tell whether they differ by more.

    >>> content_told([Weighed(312.0, 350.0, 3.5)]).times.value.__round__(3)
    0.891
    """
    if not weighed:
        return None
    drawn, said = (np.array([getattr(one, name) for one in weighed]) for name in ("drawn_ml", "said_ml"))
    times = float(np.sum(drawn) / np.sum(said))
    rounding = np.mean([(one.step_ml / one.said_ml) ** 2 / 6.0 for one in weighed])
    scatter = float(np.var(drawn / said / times, ddof=1)) if len(weighed) > 2 else 0.0
    sd = math.sqrt(ALIKE**2 + max(EACH**2 + float(rounding), scatter) / len(weighed))
    return Content(Interval(times, times * (1.0 - Z90 * sd), times * (1.0 + Z90 * sd)), len(weighed))
