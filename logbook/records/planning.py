"""What is promised, and the time there is for it."""

from datetime import date
from typing import Annotated

import msgspec
from msgspec import Meta

from logbook.records.fields import Black, Day, Days, Direction, Id, Minutes, Money, Name, Number, Text, Weekday
from logbook.records.record import Record


class Order(Record, frozen=True, kw_only=True, tag="order"):
    """Prints promised to somebody, or to oneself. Without ``promised`` it is never late and last in sequence."""

    title: Name
    prints: Number
    taken: Day
    black: Black | None = None
    paper: Id | None = None
    promised: Day | None = None
    minutes: Minutes | None = None
    late_cost_per_day: Money = 1.0
    wait_cost_per_day: Money = 0.0
    client: Text | None = None
    price: Money | None = None
    done: Day | None = None
    cancelled: Day | None = None

    def check(self) -> None:
        if self.black is None and self.paper is None:
            raise ValueError("black: an order names a black or a paper")
        if self.done is not None and self.cancelled is not None:
            raise ValueError("cancelled: an order is done or cancelled, not both")

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

    printer: Id
    weekdays: Annotated[tuple[Weekday, ...], Meta(max_length=7)]
    minutes_per_day: Annotated[float, Meta(gt=0, le=1_440)]
    minutes_per_print: Annotated[float, Meta(gt=0, le=100_000)]
    changeover_minutes: Minutes
    changeover_cost: dict[Direction, Money] | None = None
    prints_per_bench_day: PerBlack | None = None
    waiting_cost: Money = 0.5
    days_to_dry: Days = 1
    patience_days: Days = 21

    def check(self) -> None:
        if len(set(self.weekdays)) < len(self.weekdays):
            raise ValueError("weekdays: a day stands twice")
