"""A value with the two ends of its interval, as one reads it aloud."""

from __future__ import annotations

from typing import Protocol


class Ended(Protocol):
    """A value and the ends of its central 90 %."""

    @property
    def value(self) -> float: ...
    @property
    def low(self) -> float: ...
    @property
    def high(self) -> float: ...


def interval_text(amount: Ended, digits: int = 2, unit: str = "", *, signed: bool = False) -> str:
    """A value and where it lies between; the value alone where it is known exactly.

    >>> from logbook.analysis.numeric.interval import Interval
    >>> interval_text(Interval(1071.9, 966.2, 1178.4), 0, "ml"), interval_text(Interval(40.0, 40.0, 40.0))
    ('1,072 ml (966 to 1,178)', '40.00')
    """
    value = f"{number(amount.value, digits, signed=signed)} {unit}".rstrip()
    return value if amount.low == amount.high else f"{value} ({ends_text(amount, digits, signed=signed)})"


def ends_text(amount: Ended, digits: int = 2, *, signed: bool = False) -> str:
    """Where a value lies between.

    >>> from logbook.analysis.numeric.interval import Interval
    >>> ends_text(Interval(-0.31, -0.35, 0.02), signed=True)
    '−0.35 to +0.02'
    """
    return f"{number(amount.low, digits, signed=signed)} to {number(amount.high, digits, signed=signed)}"


def number(value: float, digits: int = 2, *, signed: bool = False) -> str:
    """A number with a true minus sign, and a plus where it is ``signed``."""
    shown = f"{abs(value):,.{digits}f}"
    if not shown.strip("0.,"):
        return shown
    return f"−{shown}" if value < 0 else f"+{shown}" if signed else shown
