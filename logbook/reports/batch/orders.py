"""Open orders: what is left of each, which black it needs, and how its date stands."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.analysis.batch.open_order import OpenOrder
from logbook.records import Order
from logbook.records.fields import Black
from logbook.reports.batch.basis import black_of_papers
from logbook.reports.batch.model import Changes, OrderLine, PerBlackCount, PlanEntry, When
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import left_of, open_orders

__all__ = ["SOON_DAYS", "Open", "lines", "orders_left", "waiting", "when"]

SOON_DAYS = 7


class Open(msgspec.Struct, frozen=True):
    """An open order with what is left of it."""

    order: Order
    left: int
    black: Black

    def as_planned(self, minutes_per_print: float) -> OpenOrder:
        """The order as the plan sees it; minutes that were noted for all of it shrink with what is left."""
        order = self.order
        whole = order.minutes if order.minutes is not None else order.prints * minutes_per_print
        return OpenOrder(
            id=order.id,
            black=self.black,
            prints=self.left,
            minutes=whole * self.left / order.prints,
            taken=order.taken,
            promised=order.promised,
            late_cost_per_day=order.late_cost_per_day,
            wait_cost_per_day=order.wait_cost_per_day,
        )


def orders_left(log: Snapshot, changes: Changes | None = None) -> list[Open]:
    """Orders of which something is left to print, in their sequence, as logged or as supposed."""
    supposed = changes or Changes()
    blacks = black_of_papers(log)
    known = [(order, left_of(log, order)) for order in open_orders(log)]
    known += [(order, order.prints) for order in supposed.extra]
    found = []
    for logged, left in known:
        order = _supposed(logged, supposed)
        black = order.black or blacks.get(order.paper or "")
        if left and black is not None:
            found.append(Open(order, left, black))
    return sorted(found, key=lambda one: (one.order.promised or dt.date.max, one.order.taken, one.order.id))


def _supposed(order: Order, changes: Changes) -> Order:
    if order.id not in changes.promised:
        return order
    return msgspec.structs.replace(order, promised=changes.promised[order.id])


def waiting(known: list[Open]) -> PerBlackCount:
    """Prints that wait, per black."""
    count = {black: sum(one.left for one in known if one.black == black) for black in ("matte", "photo")}
    return PerBlackCount(count["matte"], count["photo"])


def when(promised: dt.date | None, today: dt.date) -> When:
    """How a promised date stands today.

    >>> day = dt.date(2026, 11, 25)
    >>> when(dt.date(2026, 11, 24), day), when(day, day), when(dt.date(2026, 12, 24), day), when(None, day)
    ('late', 'due soon', 'in time', 'no date')
    """
    if promised is None:
        return "no date"
    if promised < today:
        return "late"
    return "due soon" if (promised - today).days <= SOON_DAYS else "in time"


def lines(known: list[Open], plan: tuple[PlanEntry, ...], today: dt.date) -> tuple[OrderLine, ...]:
    """The open orders in their sequence, each with the day that the plan gives it."""
    planned = {name: entry.date for entry in plan for name in entry.orders}
    return tuple(
        OrderLine(
            id=one.order.id,
            title=one.order.title,
            black=one.black,
            paper=one.order.paper,
            prints=one.order.prints,
            left=one.left,
            promised=one.order.promised,
            when=when(one.order.promised, today),
            planned=planned.get(one.order.id),
            client=one.order.client,
            price=one.order.price,
        )
        for one in known
    )
