"""What is promised, and the time there is for it."""

from datetime import date
from typing import Annotated

import msgspec
from msgspec import Meta

from logbook.records.declared import Say
from logbook.records.fields import Black, Day, Days, Direction, Minutes, Money, Name, Number, PaperId, PrinterId, Text, Weekday
from logbook.records.record import Record
from logbook.records.refusal import Refused


class Order(Record, frozen=True, kw_only=True, tag="order"):
    """Prints promised to somebody, or to oneself. Without ``promised`` it is never late and last in sequence."""

    title: Annotated[Name, Say(example="three for the stair")]
    prints: Number
    paper: PaperId | None = None
    black: Annotated[Black | None, Say("or any paper")] = None
    promised: Annotated[Day | None, Say("", "a day, or +8; empty: none")] = None
    client: Text | None = None
    price: Annotated[Money | None, Say("", "for all of it")] = None
    minutes: Annotated[Minutes | None, Say("", "empty: from the bench times")] = None
    late_cost_per_day: Annotated[Money, Say("late costs", "each day after its date")] = 1.0
    wait_cost_per_day: Annotated[Money, Say("waiting costs", "each day from today on")] = 0.0
    taken: Day
    done: Annotated[Day | None, Say(later=True)] = None
    cancelled: Annotated[Day | None, Say(later=True)] = None

    def check(self) -> None:
        if self.black is None and self.paper is None:
            raise Refused("black", "an order names a paper, or the black that any paper for it needs")
        if self.done is not None and self.cancelled is not None:
            raise Refused("cancelled", "an order is done or cancelled, not both")

    @property
    def closed(self) -> date | None:
        """The day from which nothing more is printed for it."""
        return self.done or self.cancelled


class PerBlack(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Prints that arrive per bench day, for each black."""

    matte: Annotated[float, Meta(ge=0, le=1_000)]
    photo: Annotated[float, Meta(ge=0, le=1_000)]


class Bench(Record, frozen=True, kw_only=True, tag="bench"):
    """When and how fast printing happens, and what a changeover costs.

    A print is made at least ``days_to_dry`` before the promised date; an order without one costs, from
    ``patience_days`` after it was taken, as if it were late.
    """

    printer: PrinterId
    weekdays: Annotated[tuple[Weekday, ...], Meta(max_length=7), Say("bench days", usual=(1, 2, 3, 4, 5))]
    minutes_per_day: Annotated[float, Meta(gt=0, le=1_440), Say("minutes a day", usual=240)]
    minutes_per_print: Annotated[float, Meta(gt=0, le=100_000), Say("a print takes", "minutes", usual=20)]
    changeover_minutes: Annotated[Minutes, Say("a changeover", "minutes", usual=45)]
    changeover_cost: dict[Direction, Money] | None = None
    waiting_cost: Annotated[Money, Say("waiting", "for each waiting print, each bench day")] = 0.5
    prints_per_bench_day: PerBlack | None = None
    days_to_dry: Annotated[Days, Say("drying", "days to dry before the promised date")] = 1
    patience_days: Annotated[Days, Say("patience", "days that an order without a date may wait")] = 21

    def check(self) -> None:
        if len(set(self.weekdays)) < len(self.weekdays):
            raise Refused("weekdays", "a day stands twice")
