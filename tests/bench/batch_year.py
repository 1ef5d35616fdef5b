"""A simulated year at the bench under several ways of deciding when to exchange the black, side by side.

Run by hand: `python -m tests.bench.batch_year [SEEDS]`. Orders are taken on the bench days of a year: steadily, three
times as many of them, or in bursts with a busy December; three in four have a date. Every way of deciding sees the same
orders. Money is changeovers, lateness (1 to 5 a day), and 0.50 for each print that still waits after a bench day.
"""

from __future__ import annotations

import datetime as dt
import sys
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import islice

import msgspec
import numpy as np

from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.open_order import OpenOrder, in_sequence
from logbook.analysis.batch.plan import BatchPlan, plan_batches
from logbook.analysis.batch.problem import Terms
from logbook.analysis.batch.rule import Flow, StandingRule, standing_rule
from logbook.analysis.batch.verdict import because_of
from logbook.records.fields import BLACKS, Black, other_black

START = dt.date(2026, 1, 1)
WEEK = (1, 2, 3, 4, 5)
DAYS = tuple(islice(bench_days(START, WEEK), 250))
ATTEMPTS, MINUTES, WAITING, PATIENCE = 1.8, 16.0, 0.5, 21
TERMS = Terms(240.0, 50.0, 27.0, 28.0)
PRINTS = (1, 1, 2, 2, 3, 4)
BLANK = OpenOrder(id="", black="matte", prints=1, minutes=0.0, taken=START)
ORDERS_A_DAY = {"steady": 0.576, "busy": 1.73, "bursting": 0.576}


def orders_of(kind: str, seed: int) -> list[OpenOrder]:
    """A year's orders, in the sequence in which they are taken."""
    draw = np.random.default_rng(seed)
    found: list[OpenOrder] = []
    wave = 1.0
    for number, day in enumerate(DAYS):
        if kind == "bursting" and number % 5 == 0:
            wave = float(draw.gamma(0.35, 1 / 0.35)) * (2.2 if day.month == 12 else 0.9)
        for _ in range(draw.poisson(ORDERS_A_DAY[kind] * wave)):
            found.append(_order(draw, f"{len(found):04}", day))
    return found


def _order(draw: np.random.Generator, name: str, day: dt.date) -> OpenOrder:
    prints = int(draw.choice(PRINTS))
    promised = day + dt.timedelta(days=int(draw.integers(7, 36))) if draw.random() < 0.75 else None
    free = promised - dt.timedelta(days=1) if promised else day + dt.timedelta(days=PATIENCE)
    black: Black = "matte" if draw.random() < 0.64 else "photo"
    late = float(draw.choice((1.0, 1.0, 2.0, 5.0)))
    dates = {"taken": day, "promised": promised, "free_until": free}
    fields = {"id": name, "black": black, "prints": prints, "minutes": prints * MINUTES * ATTEMPTS, "late_cost_per_day": late}
    return msgspec.structs.replace(BLANK, **fields, **dates)


@dataclass(frozen=True)
class Morning:
    """What is known when it is decided."""

    day: dt.date
    number: int
    loaded: Black
    orders: list[OpenOrder]
    rule: StandingRule

    def waiting(self, black: Black) -> int:
        """Prints on order of one black."""
        return sum(order.prints for order in self.orders if order.black == black)

    def plan(self) -> BatchPlan:
        """The plan of least cost for what is open."""
        return plan_batches(self.orders, self.loaded, TERMS, self.day, bench_days(self.day, WEEK))

    def rule_says(self) -> bool:
        """What the standing rule says."""
        return self.rule.says_exchange(self.loaded, self.waiting("matte"), self.waiting("photo"))


Decides = Callable[[Morning], bool]


def ours(morning: Morning) -> bool:
    """The verdict: where a date forces it, or the rule says so."""
    return because_of(morning.plan(), morning.rule_says(), morning.day) is not None


def as_soon_as_free(morning: Morning) -> bool:
    """The plan that finishes earliest: today wherever that costs no more."""
    plan = morning.plan()
    return any(one.day == morning.day and one.cost <= plan.cost.total + 1e-9 for one in plan.first_exchanges)


POLICIES: dict[str, Decides] = {
    "ours: a date, or the rule": ours,
    "dates alone, at the last moment": lambda morning: morning.plan().exchange_on == morning.day,
    "the rule alone": Morning.rule_says,
    "whenever it costs the plan nothing": as_soon_as_free,
    "as soon as the loaded black is done": lambda morning: not morning.waiting(morning.loaded),
    "each Monday": lambda morning: morning.day.isoweekday() == 1,
    "every other Monday": lambda morning: morning.number % 10 == 0,
    "from ten prints on": lambda morning: morning.waiting(other_black(morning.loaded)) >= 10,
}


@dataclass
class Year:
    """What a year came to."""

    exchanges: int = 0
    changeovers: float = 0.0
    late: float = 0.0
    waiting: float = 0.0
    late_orders: int = 0
    done: list[str] = field(default_factory=list)

    @property
    def total(self) -> float:
        """All the money."""
        return self.changeovers + self.late + self.waiting


def lived(orders: list[OpenOrder], decides: Decides, rule: StandingRule) -> Year:
    """The year under one way of deciding; what is still open on its last day has cost its waiting."""
    year, loaded, waiting = Year(), BLACKS[0], list[OpenOrder]()
    coming = iter(orders)
    following = next(coming, None)
    for number, day in enumerate(DAYS):
        while following is not None and following.taken <= day:
            waiting.append(following)
            following = next(coming, None)
        morning = Morning(day, number, loaded, waiting, rule)
        exchange = bool(morning.waiting(other_black(loaded))) and decides(morning)
        for order in _printed(morning, exchange):
            waiting.remove(order)
            _finished(year, order, day)
        if exchange:
            year.exchanges += 1
            year.changeovers += TERMS.cost_from(loaded)
            loaded = other_black(loaded)
        year.waiting += WAITING * sum(order.prints for order in waiting)
    return year


def _finished(year: Year, order: OpenOrder, day: dt.date) -> None:
    year.done.append(order.id)
    cost = order.late_cost(day)
    if order.promised:
        year.late, year.late_orders = year.late + cost, year.late_orders + (cost > 0)
    else:
        year.waiting += cost


def _printed(morning: Morning, exchange: bool) -> list[OpenOrder]:
    """The day's work: all of it where it fits; else, with a changeover, what is urgent of the loaded black, then the other."""
    queues = in_sequence(morning.orders)
    own, other = queues[morning.loaded], queues[other_black(morning.loaded)]
    if not exchange:
        return list(_fitting(own, TERMS.minutes_per_day))
    room = TERMS.minutes_per_day - TERMS.changeover_minutes
    if sum(order.minutes for order in morning.orders) <= room:
        return morning.orders[:]
    tomorrow = next(bench_days(morning.day + dt.timedelta(days=1), WEEK))
    pressing = list(_fitting([order for order in own if order.late_cost(tomorrow) > 0], room))
    return pressing + list(_fitting(other, room - sum(order.minutes for order in pressing)))


def _fitting(orders: list[OpenOrder], room: float) -> Iterator[OpenOrder]:
    for order in orders:
        room -= order.minutes
        if room < -1e-6:
            return
        yield order


def rule_of(kind: str) -> StandingRule:
    """The standing rule at the scenario's own rates."""
    prints = ORDERS_A_DAY[kind] * float(np.mean(PRINTS))
    room, beside = (int(minutes / (MINUTES * ATTEMPTS)) for minutes in (240.0, 190.0))
    rule = standing_rule(Flow(0.64 * prints, 0.36 * prints, (room,) * 2, (beside,) * 2, 27.0, 28.0, WAITING))
    assert rule is not None
    return rule


def late_share_and_cost(kind: str, decides: Decides, seeds: int) -> tuple[float, float]:
    """Share of the orders that were late, and money a year."""
    years = [(orders := orders_of(kind, seed), lived(orders, decides, rule_of(kind))) for seed in range(seeds)]
    late = sum(year.late_orders for _, year in years) / sum(len(orders) for orders, _ in years)
    return late, sum(year.total for _, year in years) / seeds


FIGURES = ("exchanges", "late_orders", "changeovers", "late", "waiting", "total")


def table(seeds: int) -> None:
    """The years side by side, means over the seeds."""
    for kind in ORDERS_A_DAY:
        rule, drawn = rule_of(kind), [orders_of(kind, seed) for seed in range(seeds)]
        print(f"\n{kind}: {np.mean([len(orders) for orders in drawn]):.0f} orders a year, {seeds} years")
        print(f"{'':36}exchanges  late orders   money: exchanges  lateness  waiting    all")
        for name, decides in POLICIES.items():
            years = [lived(orders, decides, rule) for orders in drawn]
            exchanges, late, *money = (float(np.mean([getattr(year, figure) for year in years])) for figure in FIGURES)
            spent = "{:18.0f}{:10.0f}{:9.0f}{:7.0f}".format(*money)
            print(f"{name:36}{exchanges:9.1f}{late:13.1f}{spent}", flush=True)


if __name__ == "__main__":
    table(int(sys.argv[1]) if len(sys.argv) > 1 else 10)
