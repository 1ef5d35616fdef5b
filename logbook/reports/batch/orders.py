"""Open orders: what is left of each, which black it needs, and how its date stands."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.analysis.batch.open_order import OpenOrder
from logbook.records import Order
from logbook.reports.batch.model import Changes, OrderLine, PlanEntry, When
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import OrderLeft, black_of, in_sequence, orders_left

__all__ = ["SOON_DAYS", "as_planned", "lines", "orders_supposed", "when"]

SOON_DAYS = 7


def as_planned(asked: OrderLeft, minutes_per_print: float) -> OpenOrder:
    """An order as the plan sees it; minutes that were noted for all of it shrink with what is left."""
    order = asked.order
    whole = order.minutes if order.minutes is not None else order.prints * minutes_per_print
    return OpenOrder(
        id=order.id,
        black=asked.black,
        prints=asked.left,
        minutes=whole * asked.left / order.prints,
        taken=order.taken,
        promised=order.promised,
        late_cost_per_day=order.late_cost_per_day,
        wait_cost_per_day=order.wait_cost_per_day,
    )


def orders_supposed(log: Snapshot, changes: Changes | None = None) -> list[OrderLeft]:
    """Orders of which something is left to print, in their sequence, as logged or as supposed."""
    supposed = changes or Changes()
    extra = [OrderLeft(order, order.prints, black) for order in supposed.extra if (black := black_of(log, order)) is not None]
    orders = [msgspec.structs.replace(asked, order=_promised(asked.order, supposed)) for asked in (*orders_left(log), *extra)]
    return sorted(orders, key=lambda asked: in_sequence(asked.order))


def _promised(order: Order, changes: Changes) -> Order:
    if order.id not in changes.promised:
        return order
    return msgspec.structs.replace(order, promised=changes.promised[order.id])


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


def lines(known: list[OrderLeft], plan: tuple[PlanEntry, ...], today: dt.date) -> tuple[OrderLine, ...]:
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
