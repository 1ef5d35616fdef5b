"""The printer and the inks it holds."""

from typing import Annotated

import msgspec
from msgspec import Meta

from logbook.records.declared import Say
from logbook.records.fields import Black, Length, Money, Name, Volume
from logbook.records.record import Record
from logbook.records.refusal import Refused


class Ink(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """One ink of a printer: named by what it is, with the volume and price of a full cartridge."""

    ink: Name
    nominal_ml: Volume
    price: Money | None = None


class Printer(Record, frozen=True, kw_only=True, tag="printer"):
    """A printer: the widest paper it takes, its inks in the order of its own display, and its gauge's step."""

    name: Annotated[Name, Say(example="bench one, 24 in")]
    max_width_mm: Annotated[Length, Say("widest paper", usual=610.0)]
    gauge_step_percent: Annotated[float, Meta(gt=0, le=100), Say("gauge step", "between two readings it can show", usual=1.0)]
    shared_black_slot: Annotated[bool, Say("shared slot", "both blacks share one slot")] = True
    black_at_start: Annotated[Black | None, Say("loaded first")] = None
    inks: Annotated[tuple[Ink, ...], Meta(min_length=1, max_length=64)]

    def check(self) -> None:
        names = [ink.ink for ink in self.inks]
        twice = next((name for name in names if names.count(name) > 1), None)
        if twice is not None:
            raise Refused("inks", f"{twice!r} stands twice")

    @property
    def ink_names(self) -> tuple[str, ...]:
        """The inks in the order of the printer's display."""
        return tuple(ink.ink for ink in self.inks)
