"""The model of the changeovers answer: what its JSON holds."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.analysis.numeric.interval import Interval

__all__ = [
    "BeyondNoted",
    "CartridgesGive",
    "ChangeoversAnswer",
    "DayRate",
    "Direction",
    "InkAccount",
    "InkDirection",
    "InkRate",
    "Measured",
    "UnloggedSheets",
]


class Direction(msgspec.Struct, frozen=True, kw_only=True):
    """One direction of changeover: what one of them takes of all inks together, in ml and in money, and its minutes.

    None where the log does not tell; ``cost`` counts the inks that have a price.
    """

    from_black: str = msgspec.field(name="from")
    to_black: str = msgspec.field(name="to")
    count: int
    ink_ml: Interval | None
    cost: Interval | None
    minutes: float | None


class InkDirection(msgspec.Struct, frozen=True, kw_only=True):
    """What one changeover in a direction takes of one ink, in ml."""

    ink: str
    from_black: str = msgspec.field(name="from")
    to_black: str = msgspec.field(name="to")
    ink_ml: Interval


class InkAccount(msgspec.Struct, frozen=True, kw_only=True):
    """Where one ink went, in ml: used = prints + changeovers + cleanings + idle + unlogged + unexplained."""

    ink: str
    used_ml: float
    prints_ml: float
    changeovers_ml: float
    cleanings_ml: float
    idle_ml: float
    unlogged_ml: float
    unexplained_ml: float


class InkRate(msgspec.Struct, frozen=True, kw_only=True):
    """What a square metre of image takes of one ink, in ml: of what was printed, and of each finish where the log tells."""

    ink: str
    value: float
    low: float
    high: float
    matte: Interval | None
    photo: Interval | None


class DayRate(msgspec.Struct, frozen=True, kw_only=True):
    """What the printer draws of one ink by itself, in ml a day."""

    ink: str
    value: float
    low: float
    high: float


class UnloggedSheets(msgspec.Struct, frozen=True, kw_only=True):
    """The share of all sheets that nobody logged, told by finished ``paper`` or by the printer's ``counter``.

    ``prints`` are those missing of as many sheets as these saw.
    """

    share: Interval
    told_by: str = msgspec.field(name="from")
    prints: int
    of: int


class BeyondNoted(msgspec.Struct, frozen=True, kw_only=True):
    """The gauge saw so many ``times`` go what was noted with so many ``prints``."""

    times: Interval
    prints: int


class CartridgesGive(msgspec.Struct, frozen=True, kw_only=True):
    """So many weighed ``cartridges`` gave so many ``times`` what they are said to hold."""

    times: Interval
    cartridges: int


class Measured(msgspec.Struct, frozen=True, kw_only=True):
    """One changeover: before minus after, summed over the inks; None without both readings."""

    id: str
    at: dt.datetime
    from_black: str = msgspec.field(name="from")
    to_black: str = msgspec.field(name="to")
    measured_ml: float | None


class ChangeoversAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """How much ink each changeover wastes, and where all the ink went.

    ``share_of_ink`` is None where no ink was read. Beside the answer itself: the printer, how many rounds of readings
    it rests on, the inks without a price, those whose part in a changeover the readings do not tell, the ml a day that the
    printer draws ``by_itself`` of all inks, how far the gauge goes beyond the ink noted with prints, and what weighed
    cartridges gave, which all ml count.
    """

    directions: tuple[Direction, ...] = ()
    inks: tuple[InkDirection, ...] = ()
    account: tuple[InkAccount, ...] = ()
    ml_per_m2: tuple[InkRate, ...] = ()
    ml_per_day: tuple[DayRate, ...] = ()
    unlogged: UnloggedSheets | None = None
    share_of_ink: float | None = None
    history: tuple[Measured, ...] = ()
    printer: str | None = None
    gauges: int = 0
    unpriced: tuple[str, ...] = ()
    unread: tuple[str, ...] = ()
    by_itself: Interval | None = None
    beyond_noted: BeyondNoted | None = None
    cartridges_give: CartridgesGive | None = None
