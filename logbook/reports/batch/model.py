"""The answer to "is a batch due": its fields are the keys of its JSON."""

from __future__ import annotations

import datetime as dt
from typing import Literal

import msgspec

from logbook.analysis.numeric.interval import Interval
from logbook.records import Order
from logbook.records.fields import Black, Direction
from logbook.snapshot.orders import Waiting

__all__ = [
    "Basis",
    "BatchAnswer",
    "Changes",
    "Cost",
    "CostSource",
    "Exchanged",
    "FirstExchange",
    "OrderLine",
    "Otherwise",
    "PlanEntry",
    "Rule",
    "Short",
    "Verdict",
    "When",
]

Verdict = Literal["due", "wait"]
CostSource = Literal["bench", "log", "the other direction", "nothing"]
When = Literal["late", "due soon", "in time", "no date"]


class PlanEntry(msgspec.Struct, frozen=True, kw_only=True):
    """What is printed with one black on one date; ``changeover``: an exchange comes first, and ``minutes`` includes it."""

    date: dt.date
    black: Black
    changeover: bool
    orders: tuple[str, ...]
    minutes: float


class Cost(msgspec.Struct, frozen=True, kw_only=True):
    """Money that the plan costs."""

    total: float
    changeovers: float
    late: float
    waiting: float


class Rule(msgspec.Struct, frozen=True, kw_only=True):
    """The standing rule: for 0 to 20 waiting prints of the loaded black, from how many of the other on to exchange."""

    matte: tuple[int | None, ...]
    photo: tuple[int | None, ...]
    average_cost: float | None

    def of(self, loaded: Black) -> tuple[int | None, ...]:
        """The curve that holds while ``loaded`` is loaded."""
        return self.matte if loaded == "matte" else self.photo


class Short(msgspec.Struct, frozen=True, kw_only=True):
    """An ink, or a paper's stock, that will not last the plan; ``unit`` is that of ``needed`` and ``left``.

    ``orders`` are those it would not reach.
    """

    what: Literal["ink", "stock"]
    name: str
    needed: float | None
    left: float
    unit: Literal["ml", "mm", "sheets"]
    orders: tuple[str, ...]


class OrderLine(msgspec.Struct, frozen=True, kw_only=True):
    """An open order: ``left`` prints of ``prints`` are still to be made; ``planned`` is the day that the plan gives it."""

    id: str
    title: str
    black: Black
    paper: str | None
    prints: int
    left: int
    promised: dt.date | None
    when: When
    planned: dt.date | None
    client: str | None
    price: float | None


class FirstExchange(msgspec.Struct, frozen=True):
    """The least cost of the plans that exchange for the first time on ``date``."""

    date: dt.date
    cost: float


class Otherwise(msgspec.Struct, frozen=True, kw_only=True):
    """What the plan would say at one end of the interval of the changeovers' cost."""

    end: Literal["low", "high"]
    verdict: Verdict
    exchange_on: dt.date | None


class Exchanged(msgspec.Struct, frozen=True, kw_only=True):
    """A changeover of the past: what waited then, and from how many prints on the rule would have exchanged."""

    id: str
    at: dt.datetime
    to: Black
    waiting: Waiting
    rule_from: int | None
    rule: Literal["exchange", "stay"] | None


class Basis(msgspec.Struct, frozen=True, kw_only=True):
    """What the answer was worked out with.

    ``changeover_cost`` is money by direction, ``changeovers`` the number logged; ``prints_per_bench_day`` are
    arrivals, ``prints_counted`` the prints they were counted from on ``days_counted`` bench days, or None where the
    bench record says them.
    """

    printer: str | None
    shared_black_slot: bool
    weekdays: tuple[int, ...]
    minutes_per_day: float
    minutes_per_print: float
    changeover_minutes: float
    changeover_cost: dict[Direction, Interval]
    cost_from: dict[Direction, CostSource]
    changeovers: int
    prints_per_bench_day: dict[Black, Interval] | None
    prints_counted: int | None
    days_counted: int | None
    waiting_cost: float


class BatchAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """Whether a batch of the other black is due.

    ``break_even_between``: the break-even number at the low and at the high end of the changeovers' cost.
    """

    today: dt.date
    loaded: Black
    waiting: Waiting
    verdict: Verdict
    exchange_on: dt.date | None
    plan: tuple[PlanEntry, ...]
    cost: Cost
    cost_if_exchanged_today: float | None
    break_even_prints: int | None
    break_even_between: tuple[int | None, int | None] | None
    rule: Rule
    short: tuple[Short, ...]
    left_out: tuple[str, ...]
    notes: tuple[str, ...]
    orders: tuple[OrderLine, ...]
    first_exchange: tuple[FirstExchange, ...]
    otherwise: tuple[Otherwise, ...]
    history: tuple[Exchanged, ...]
    basis: Basis


class Changes(msgspec.Struct, frozen=True, kw_only=True):
    """What is supposed instead of what is logged; nothing of it is saved.

    ``changeover_cost``: other money by direction; ``extra``: orders more; ``promised``: other dates, by order id.
    """

    changeover_cost: dict[Direction, float] = {}
    extra: tuple[Order, ...] = ()
    promised: dict[str, dt.date | None] = {}

    @property
    def any(self) -> bool:
        """Whether anything is supposed at all."""
        return bool(self.changeover_cost or self.extra or self.promised)
