"""The answer to "is a batch due": its fields are the keys of its JSON."""

from __future__ import annotations

import datetime as dt
from typing import Literal

import msgspec

from logbook.analysis.batch.verdict import Because
from logbook.analysis.numeric.interval import Interval
from logbook.records import Order
from logbook.records.fields import Black, Direction
from logbook.snapshot.orders import Waiting

__all__ = [
    "Basis",
    "BatchAnswer",
    "BatchDue",
    "Changes",
    "Cost",
    "CostSource",
    "Counted",
    "Exchanged",
    "FirstExchange",
    "LikelyDay",
    "OrderLine",
    "PerBlackRate",
    "PlanEntry",
    "Rule",
    "Short",
    "Verdict",
    "When",
]

Verdict = Literal["due", "wait"]
CostSource = Literal["bench", "log", "the other direction", "nothing"]
When = Literal["late", "soon", "in time", "no date"]


class PerBlackRate(msgspec.Struct, frozen=True):
    """Prints that it takes to get one that is kept, for each black."""

    matte: float = 1.0
    photo: float = 1.0

    def of(self, black: Black) -> float:
        """Those of one black."""
        return self.matte if black == "matte" else self.photo


class PlanEntry(msgspec.Struct, frozen=True, kw_only=True):
    """What is printed with one black on one date; ``changeover``: a changeover comes first, and ``minutes`` includes it."""

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

    ``name`` is the ink or the paper's id, ``called`` what it is called.

    ``orders`` are those it would not reach.
    """

    what: Literal["ink", "stock"]
    name: str
    called: str
    needed: float
    left: float
    unit: Literal["ml", "mm", "sheets"]
    orders: tuple[str, ...]


class OrderLine(msgspec.Struct, frozen=True, kw_only=True):
    """An open order: ``left`` prints of ``prints`` are still to be made; ``planned`` is the day that the plan gives it.

    ``kept_chance``: the chance that it is ready for the promised date, under the plan; ``latest_changeover``: the last day
    of a changeover after which it is ready nine times in ten; ``lacks`` names what may run out before it. None where the
    order has no date, its black is loaded, or the plan does not reach it.
    """

    id: str
    title: str
    black: Black
    paper: str | None
    prints: int
    left: int
    taken: dt.date
    promised: dt.date | None
    when: When
    planned: dt.date | None
    client: str | None
    price: float | None
    kept_chance: float | None = None
    latest_changeover: dt.date | None = None
    lacks: tuple[str, ...] = ()


class FirstExchange(msgspec.Struct, frozen=True):
    """The least cost of the plans that exchange for the first time on ``date``, and how many changeovers the best of them has.

    ``dearest`` is the order whose date costs most in it, None where none does.
    """

    date: dt.date
    cost: float
    changeovers: int = 1
    dearest: str | None = None


class LikelyDay(msgspec.Struct, frozen=True):
    """A day as the day of the changeover: the ``chance`` that none is cheaper once what is not known has turned out, and what
    it costs ``more`` then than the day that is best on average."""

    date: dt.date
    chance: float
    more: Interval


class Exchanged(msgspec.Struct, frozen=True, kw_only=True):
    """A changeover of the past, judged by the verdict of that morning: what waited, whether it was due and why.

    ``exchange_on`` is the day that the dates alone would have allowed, ``rule_from`` the number of prints from which on
    the rule would have exchanged.
    """

    id: str
    at: dt.datetime
    to: Black
    waiting: Waiting
    verdict: Verdict
    because: Because | None
    exchange_on: dt.date | None
    rule_from: int | None


class Counted(msgspec.Struct, frozen=True, kw_only=True):
    """What a black's attempts were counted on: prints made and prints kept; strips are left out."""

    prints: int
    keepers: int


class Basis(msgspec.Struct, frozen=True, kw_only=True):
    """What the answer was worked out with.

    ``changeover_cost`` is money by direction, ``changeovers`` the number logged; ``prints_per_bench_day`` are prints
    ordered, ``orders_counted`` the orders and ``weeks_counted`` the weeks they were counted from, both None where the
    bench record says them; ``season`` is what the coming weeks bring as a multiple of the year's mean. ``attempts`` are
    counted for each black. ``used_today`` are minutes of today that are gone; ``others`` the names of other printers
    that orders go to.
    """

    printer: str | None
    name: str | None
    others: tuple[str, ...]
    shared_black_slot: bool
    weekdays: tuple[int, ...]
    minutes_per_day: float
    minutes_per_print: float
    changeover_minutes: float
    changeover_cost: dict[Direction, Interval]
    cost_from: dict[Direction, CostSource]
    changeovers: int
    prints_per_bench_day: dict[Black, Interval] | None
    orders_counted: int | None
    weeks_counted: int | None
    season: float
    attempts: dict[Black, Counted]
    used_today: float
    waiting_cost: float
    days_to_dry: int
    patience_days: int


class BatchDue(msgspec.Struct, frozen=True):
    """On which day a batch of that ``black`` is due, seen from ``today``; None where none is. ``now``: it is called for today."""

    black: Black
    on: dt.date | None
    today: dt.date
    now: bool = False


class BatchAnswer(msgspec.Struct, frozen=True, kw_only=True):
    """Whether a batch of the other black is due; ``exchange_next`` is the day for it by dates and rule together.

    ``because``: whether a date, the standing rule or both ask for the changeover. ``break_even_between``: the break-even
    number at the low and at the high end of the changeovers' cost. ``rule`` is None where nobody knows what a changeover
    costs, and holds no numbers where it is not known how many prints are ordered, or too many are; ``likely`` is empty then.
    """

    today: dt.date
    loaded: Black
    waiting: Waiting
    verdict: Verdict
    because: Because | None
    exchange_on: dt.date | None
    plan: tuple[PlanEntry, ...]
    cost: Cost
    cost_if_exchanged_today: float | None
    cost_known: bool
    attempts: PerBlackRate
    break_even_prints: int | None
    break_even_between: tuple[int | None, int | None] | None
    rule: Rule | None
    short: tuple[Short, ...]
    left_out: tuple[str, ...]
    notes: tuple[str, ...]
    orders: tuple[OrderLine, ...]
    first_exchange: tuple[FirstExchange, ...]
    likely: tuple[LikelyDay, ...]
    exchange_next: dt.date | None
    history: tuple[Exchanged, ...]
    basis: Basis

    @property
    def has_rule(self) -> bool:
        """Whether a standing rule was found."""
        return self.rule is not None and self.rule.average_cost is not None


class Changes(msgspec.Struct, frozen=True, kw_only=True):
    """What is supposed instead of what is logged; nothing of it is saved.

    ``changeover_cost``: other money by direction; ``extra``: orders more, or as they would be; ``promised``: other dates, by
    order id.
    """

    changeover_cost: dict[Direction, float] = {}
    extra: tuple[Order, ...] = ()
    promised: dict[str, dt.date | None] = {}

    @property
    def any(self) -> bool:
        """Whether anything is supposed at all."""
        return bool(self.changeover_cost or self.extra or self.promised)
