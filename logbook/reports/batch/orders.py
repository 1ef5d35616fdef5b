"""Open orders: what is left of each, which black and which printer it needs, and how its date stands."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping

import msgspec

from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.promises import Keeping
from logbook.records import Order, Paper, Printer
from logbook.records.fields import Black
from logbook.records.wording import ink_text
from logbook.reports.batch.basis import each_keeper, printers_at_work
from logbook.reports.batch.model import Basis, Changes, OrderLine, PlanEntry, When
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import OrderLeft, black_of, in_sequence, left_of, open_orders
from logbook.snapshot.printer import loaded_black

__all__ = ["SOON_DAYS", "as_planned", "lines", "orders_supposed", "when"]

SOON_DAYS = 7


def as_planned(asked: OrderLeft, basis: Basis) -> OpenOrder:
    """An order as the plan sees it, with the attempts its prints take; minutes noted for all of it shrink with what is left."""
    order, left, black = asked.order, asked.left, asked.black
    prints = left * each_keeper(basis).of(black)
    minutes = order.minutes * left / order.prints if order.minutes is not None else prints * basis.minutes_per_print
    dry, patience = dt.timedelta(days=basis.days_to_dry), dt.timedelta(days=basis.patience_days)
    return OpenOrder(
        id=order.id,
        black=black,
        prints=left,
        minutes=minutes,
        taken=order.taken,
        promised=order.promised,
        free_until=order.promised - dry if order.promised is not None else order.taken + patience,
        late_cost_per_day=order.late_cost_per_day,
        wait_cost_per_day=order.wait_cost_per_day,
    )


def orders_supposed(log: Snapshot, printer: Printer | None, changes: Changes | None = None) -> list[OrderLeft]:
    """Orders of which something is left to print on a printer, in their sequence, as logged or as supposed."""
    supposed = changes or Changes()
    extra = {order.id: order for order in supposed.extra}
    orders = [*(order for order in open_orders(log) if order.id not in extra), *extra.values()]
    found = []
    for order in sorted((_promised(order, supposed) for order in orders), key=in_sequence):
        left, black = left_of(log, order), black_of(log, order)
        if left and black is not None and _goes_to(log, black, printer):
            found.append(OrderLeft(order, left, black))
    return found


def _goes_to(log: Snapshot, black: Black, printer: Printer | None) -> bool:
    """Whether orders of a black go to a printer: to the first that has it loaded, else to the one in use."""
    at_work = printers_at_work(log)
    if printer is None or len(at_work) < 2:
        return True
    ready = [one for one in at_work if not one.shared_black_slot or loaded_black(log, one) == black]
    return (ready or at_work)[0].id == printer.id


def _promised(order: Order, changes: Changes) -> Order:
    """The order with the date that is supposed for it."""
    return msgspec.structs.replace(order, promised=changes.promised.get(order.id, order.promised))


def when(promised: dt.date | None, today: dt.date) -> When:
    """How a promised date stands today.

    >>> day = dt.date(2026, 11, 25)
    >>> when(dt.date(2026, 11, 24), day), when(day, day), when(dt.date(2026, 12, 24), day), when(None, day)
    ('late', 'soon', 'in time', 'no date')
    """
    if promised is None:
        return "no date"
    if promised < today:
        return "late"
    return "soon" if (promised - today).days <= SOON_DAYS else "in time"


def lines(
    log: Snapshot, known: list[OrderLeft], plan: tuple[PlanEntry, ...], keeping: Mapping[str, Keeping]
) -> tuple[OrderLine, ...]:
    """The open orders in their sequence, each with the day that the plan gives it, and whether it keeps its date."""
    papers = {paper.id: paper.name for paper in log.all(Paper)}
    planned = {name: entry.date for entry in plan for name in entry.orders}
    nothing = Keeping(None, None, ())
    return tuple(
        OrderLine(
            id=one.order.id,
            title=one.order.title,
            black=one.black,
            paper=one.order.paper,
            prints=one.order.prints,
            left=one.left,
            taken=one.order.taken,
            promised=one.order.promised,
            when=when(one.order.promised, log.day),
            planned=planned.get(one.order.id),
            client=one.order.client,
            price=one.order.price,
            kept_chance=(kept := keeping.get(one.order.id, nothing)).chance,
            latest_changeover=kept.latest,
            lacks=tuple(papers.get(name, ink_text(name)) for name in kept.short),
        )
        for one in known
    )
