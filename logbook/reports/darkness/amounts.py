"""Amounts of darkness as one says them."""

from __future__ import annotations

from logbook.analysis.numeric.interval import Interval
from logbook.records.darkness import stops_text

_AMOUNTS = (
    (1 / 6, "a sixth of a stop"),
    (1 / 4, "a quarter of a stop"),
    (1 / 3, "a third of a stop"),
    (1 / 2, "half a stop"),
    (2 / 3, "two thirds of a stop"),
    (1.0, "a stop"),
    (4 / 3, "a stop and a third"),
    (5 / 3, "a stop and two thirds"),
    (2.0, "two stops"),
)
#: Below half of the smallest amount that has a name, prints look like the screen.
AS_ON_SCREEN = 1 / 12


def amount_in_words(stops: float) -> str:
    """The nearest amount that is said in words, without a sign.

    >>> amount_in_words(-0.31), amount_in_words(0.02)
    ('a third of a stop', 'hardly anything')
    """
    if abs(stops) < AS_ON_SCREEN:
        return "hardly anything"
    return min(_AMOUNTS, key=lambda one: abs(one[0] - abs(stops)))[1]


def darker_in_words(stops: float) -> str:
    """How a print compares with the screen.

    >>> darker_in_words(-0.31), darker_in_words(0.5), darker_in_words(0.01)
    ('a third of a stop darker than the screen', 'half a stop lighter than the screen', 'as light as the screen')
    """
    if abs(stops) < AS_ON_SCREEN:
        return "as light as the screen"
    return f"{amount_in_words(stops)} {'darker' if stops < 0 else 'lighter'} than the screen"


def stops_between(stops: Interval) -> str:
    """Value and ends in stops.

    >>> stops_between(Interval(-0.31, -0.35, -0.27))
    '−0.31; −0.35 to −0.27'
    """
    return f"{stops_text(stops.value)}; {stops_text(stops.low)} to {stops_text(stops.high)}"
