"""The interval of a share, so many of so many, and of the difference of two."""

from __future__ import annotations

import math
from statistics import NormalDist

from logbook.analysis.numeric.interval import Interval


def wilson(successes: float, n: float, level: float = 0.9) -> Interval:
    """Score interval of a proportion (Wilson 1927, J. Am. Stat. Assoc. 22, 209-212).

    ``successes`` of ``n`` trials (0 <= successes <= n; not whole where trials tell less than one each), ``level`` the share
    of the interval.
    The value is successes / n. Without trials nothing is known: value NaN, interval 0 to 1.
    Raises ``ValueError`` for counts that cannot be, or a level outside (0, 1).

    >>> share = wilson(81, 263, level=0.95)
    >>> round(share.low, 4), round(share.high, 4)
    (0.2553, 0.3662)
    """
    if not 0 <= successes <= n:
        raise ValueError(f"{successes} of {n} is no proportion")
    if not 0 < level < 1:
        raise ValueError(f"a level lies between 0 and 1, not {level}")
    if n == 0:
        return Interval(math.nan, 0.0, 1.0)
    z = NormalDist().inv_cdf((1 + level) / 2)
    share = successes / n
    weight = 1 + z * z / n
    centre = (share + z * z / (2 * n)) / weight
    half = z / weight * math.sqrt(share * (1 - share) / n + z * z / (4 * n * n))
    low = 0.0 if successes == 0 else max(0.0, centre - half)
    high = 1.0 if successes == n else min(1.0, centre + half)
    return Interval(share, low, high)


def difference(one: Interval, other: Interval) -> Interval:
    """``one`` share less the ``other``, independent of it (Newcombe 1998, Stat. Med. 17, 873-890, method 10).

    Both are Wilson's intervals at one level; the result has that level.

    >>> less = difference(wilson(56, 70, level=0.95), wilson(48, 80, level=0.95))
    >>> round(less.value, 4), round(less.low, 4), round(less.high, 4)
    (0.2, 0.0524, 0.3339)
    """
    value = one.value - other.value
    below = math.hypot(one.value - one.low, other.high - other.value)
    above = math.hypot(one.high - one.value, other.value - other.low)
    return Interval(value, value - below, value + above)
