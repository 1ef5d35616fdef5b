"""Student's t: how much wider an interval is when its spread was learnt from few observations."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Z90

__all__ = ["student_quantile", "t_quantile"]

_EXACT = {1: 6.313751514675043, 2: 2.919985580355516}  # tan(0.45 pi), and 0.9 sqrt(2 / 0.19)


def t_quantile(freedom: float, z: float = Z90) -> float:
    """Quantile of Student's t with ``freedom`` (> 0) degrees, for the probability at which the normal one is ``z``.

    Expansion in 1 / freedom (Abramowitz and Stegun, Handbook of Mathematical Functions, 1964, 26.7.5), good to 1 % from
    2 degrees on; fewer count as 2.

    >>> round(t_quantile(6), 3), round(t_quantile(30), 3), round(t_quantile(float("inf")), 3)
    (1.943, 1.697, 1.645)
    """
    n = max(freedom, 2.0)
    first = (z**3 + z) / 4
    second = (5 * z**5 + 16 * z**3 + 3 * z) / 96
    third = (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384
    fourth = (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / 92_160
    return z + first / n + second / n**2 + third / n**3 + fourth / n**4


def student_quantile(freedom: int) -> float:
    """Half the width of a central 90 % interval in standard errors, for a mean of ``freedom`` + 1 (>= 2) values.

    Exact for 1 and 2 degrees, where the expansion fails; within 0.002 beyond.

    >>> round(student_quantile(1), 3), round(student_quantile(9), 3)
    (6.314, 1.833)
    """
    return _EXACT[freedom] if freedom in _EXACT else t_quantile(freedom)
