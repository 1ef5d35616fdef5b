"""What is promised, and the time there is for it."""

from typing import Annotated

import msgspec
from msgspec import Meta

from logbook.records.fields import Black, Day, Direction, Id, Minutes, Money, Name, Number, Text, Weekday
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

    def check(self) -> None:
        if self.black is None and self.paper is None:
            raise ValueError("black: an order names a black or a paper")


class PerBlack(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """Prints that arrive per bench day, for each black."""

    matte: Annotated[float, Meta(ge=0, le=1_000)]
    photo: Annotated[float, Meta(ge=0, le=1_000)]


class Bench(Record, frozen=True, kw_only=True, tag="bench"):
    """When and how fast printing happens, and what a changeover costs."""

    printer: Id
    weekdays: Annotated[tuple[Weekday, ...], Meta(max_length=7)]
    minutes_per_day: Annotated[float, Meta(gt=0, le=1_440)]
    minutes_per_print: Annotated[float, Meta(gt=0, le=100_000)]
    changeover_minutes: Minutes
    changeover_cost: dict[Direction, Money] | None = None
    prints_per_bench_day: PerBlack | None = None
    waiting_cost: Money = 0.5

    def check(self) -> None:
        if len(set(self.weekdays)) < len(self.weekdays):
            raise ValueError("weekdays: a day stands twice")
