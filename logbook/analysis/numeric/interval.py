"""An estimate with what is not known about it: always the central 90 %."""

from __future__ import annotations

import math

import msgspec

#: Standard normal quantile that leaves 5 % on either side.
Z90 = 1.6448536269514722
#: Standard normal quantile that leaves 12.5 % on either side (the central 75 %).
Z75 = 1.1503493803760083


class Interval(msgspec.Struct, frozen=True):
    """A value with the two ends of its central 90 % interval, all in one unit.

    >>> Interval(0.31, 0.27, 0.35).excludes(0)
    True
    """

    value: float
    low: float
    high: float

    @property
    def width(self) -> float:
        """High end less low end.

        >>> Interval(2.0, 1.0, 4.0).width
        3.0
        """
        return self.high - self.low

    def excludes(self, point: float = 0.0) -> bool:
        """Whether the point lies outside the interval."""
        return not self.low <= point <= self.high

    def scaled(self, factor: float) -> Interval:
        """The same estimate in another unit; a negative factor swaps the ends.

        >>> Interval(2.0, 1.0, 4.0).scaled(-1)
        Interval(value=-2.0, low=-4.0, high=-1.0)
        """
        ends = sorted((self.low * factor, self.high * factor))
        return Interval(self.value * factor, ends[0], ends[1])

    def clipped(self, low: float = -math.inf, high: float = math.inf) -> Interval:
        """The same estimate held inside what is possible (a volume is never below 0).

        >>> Interval(0.5, -0.2, 1.4).clipped(0, 1)
        Interval(value=0.5, low=0.0, high=1.0)
        """

        def hold(point: float) -> float:
            return float(min(max(point, low), high))

        return Interval(hold(self.value), hold(self.low), hold(self.high))


def from_normal(value: float, sd: float, z: float = Z90) -> Interval:
    """Central interval of a normal estimate with standard deviation ``sd`` (same unit).

    >>> ends = from_normal(1.0, 0.1)
    >>> round(ends.low, 3), round(ends.high, 3)
    (0.836, 1.164)
    """
    return Interval(float(value), float(value - z * sd), float(value + z * sd))
