"""Student's t, for means of few values."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Z90

_EXACT = {1: 6.313751514675043, 2: 2.919985580355516}


def student_quantile(freedom: int) -> float:
    """95 % quantile of Student's t for ``freedom`` degrees (>= 1): half the width of a central 90 % interval.

    Cornish-Fisher expansion (Abramowitz & Stegun 1964, 26.7.5), within 0.002 from 3 degrees on; exact below.

    >>> round(student_quantile(9), 3)
    1.833
    """
    if freedom in _EXACT:
        return _EXACT[freedom]
    z, n = Z90, freedom
    terms = (
        (z**3 + z) / (4 * n),
        (5 * z**5 + 16 * z**3 + 3 * z) / (96 * n**2),
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / (384 * n**3),
        (79 * z**9 + 776 * z**7 + 1482 * z**5 - 1920 * z**3 - 945 * z) / (92160 * n**4),
    )
    return float(z + sum(terms))
