"""Levels and chances as one reads them."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Interval
from logbook.records.text import plain
from logbook.records.units import share_text
from logbook.records.wording import setting_text
from logbook.reports.darkness.model import Names, Value

PLACES = ("paper", "screen", "light")


def level_text(names: Names, setting: str, level: Value) -> str:
    """A level as one reads it: the name of a paper, screen or light, the value of a setting."""
    if setting in PLACES:
        return plain(names.of(setting, str(level)))
    return setting_text(setting, level)


def percent_text(share: float) -> str:
    """A share in percent that never claims certainty.

    >>> percent_text(0.456), percent_text(0.999), percent_text(0.0001)
    ('46 %', 'over 99 %', 'under 1 %')
    """
    if share > 0.995:
        return "over 99 %"
    return "under 1 %" if share < 0.005 else share_text(share)


def percent_interval_text(share: Interval) -> str:
    """A chance in percent with its ends, unless it is as good as certain."""
    if share.low > 0.995 or share.high < 0.005:
        return percent_text(share.value)
    return f"{percent_text(share.value)} ({percent_text(share.low)} to {percent_text(share.high)})"


def counted_share_text(share: Interval) -> str:
    """A share that was counted, with its interval: of the counted ones all or none may be meant, of all others never.

    >>> counted_share_text(Interval(1.0, 0.27, 1.0)), counted_share_text(Interval(0.998, 0.991, 0.9996))
    ('100 % (27 % to over 99 %)', 'over 99 % (99 % to over 99 %)')
    """
    value = share_text(share.value) if share.value in (0, 1) else percent_text(share.value)
    return f"{value} ({percent_text(share.low)} to {percent_text(share.high)})"
