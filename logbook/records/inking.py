"""What happens to the inks: cartridges, readings, changeovers and cleanings."""

from typing import Annotated

import msgspec
from msgspec import Meta

from logbook.records.declared import Say
from logbook.records.fields import (
    Black,
    Count,
    GaugeId,
    Minutes,
    Money,
    Name,
    Percent,
    PrinterId,
    Strength,
    Text,
    Time,
    UsedVolume,
    Volume,
)
from logbook.records.record import Record, not_before
from logbook.records.refusal import Refused

CLEAR = {True: "nozzle check was clear", False: "was not"}


class Cartridge(Record, frozen=True, kw_only=True, tag="cartridge"):
    """One cartridge of an ink, from installed to removed; ``start_percent`` is below 100 for a part-used one.

    ``left_ml`` is what was found in it when it was out, the gauge having shown ``end_percent``.
    """

    printer: PrinterId
    ink: Name
    start_percent: Annotated[Percent, Say("level", "when it went in")] = 100.0
    nominal_ml: Annotated[Volume, Say("volume", "when full; empty: as the last one")]
    price: Annotated[Money | None, Say("", "empty: as the last one")] = None
    lot: Text | None = None
    installed: Time
    removed: Annotated[Time | None, Say(later=True)] = None
    end_percent: Annotated[Percent | None, Say("level at its end", "when it came out", later=True)] = None
    left_ml: Annotated[UsedVolume | None, Say("ink left", "found in it when it was out", later=True)] = None

    def check(self) -> None:
        not_before("removed", self.removed, self.installed, "installed")


class Gauge(Record, frozen=True, kw_only=True, tag="gauge"):
    """One round of ink-level readings, in percent, as the printer shows them.

    ``sheets_counted`` is how many sheets a linked printer said it had made in its life.
    """

    printer: PrinterId
    at: Time
    levels: Annotated[dict[Name, Percent], Meta(min_length=1, max_length=64)]
    sheets_counted: Annotated[Count | None, Say("", "by the printer's own count", later=True)] = None


class Changeover(Record, frozen=True, kw_only=True, tag="changeover"):
    """Exchanging one black for the other; ``before`` and ``after`` are gauges."""

    printer: PrinterId
    at: Time
    from_black: Black = msgspec.field(name="from")
    to_black: Black = msgspec.field(name="to")
    before: GaugeId | None = None
    after: GaugeId | None = None
    minutes: Annotated[Minutes | None, Say("", "it took")] = None
    cleanings: Annotated[Count | None, Say("", "that were part of it")] = None
    note: Text | None = None

    def check(self) -> None:
        if self.from_black == self.to_black:
            raise Refused("to", "a changeover brings the other black")


class Cleaning(Record, frozen=True, kw_only=True, tag="cleaning"):
    """A head cleaning, with its strength, and whether the nozzle check was clear before and after it."""

    printer: PrinterId
    strength: Strength | None = None
    clear_before: Annotated[bool | None, Say("before", words=CLEAR)] = None
    clear_after: Annotated[bool | None, Say("after", words=CLEAR)] = None
    note: Text | None = None
    at: Annotated[Time, Say("cleaned at")]
