"""Orders that are open, what is left of each, and what waits of each black."""

from collections import Counter
from collections.abc import Iterable
from datetime import date

import msgspec

from logbook.records import Order, Paper
from logbook.records.fields import Black
from logbook.snapshot.snapshot import Snapshot


class Waiting(msgspec.Struct, frozen=True):
    """Prints of open orders that are still to be made, for each black."""

    matte: int = 0
    photo: int = 0

    def of(self, black: Black) -> int:
        """Those of one black."""
        return self.matte if black == "matte" else self.photo


class OrderLeft(msgspec.Struct, frozen=True):
    """An open order, the prints that are still to be made of it, and the black they need."""

    order: Order
    left: int
    black: Black


def open_orders(log: Snapshot) -> list[Order]:
    """The orders that are neither done nor cancelled, in their sequence."""
    return sorted((order for order in log.all(Order) if order.closed is None), key=in_sequence)


def in_sequence(order: Order) -> tuple[date, date, str]:
    """The key that sorts orders: promised (without a date last), taken, id."""
    return order.promised or date.max, order.taken, order.id


def orders_left(log: Snapshot) -> list[OrderLeft]:
    """The open orders that still ask for prints, in their sequence."""
    orders = [(order, left_of(log, order), black_of(log, order)) for order in open_orders(log)]
    return [OrderLeft(order, left, black) for order, left, black in orders if left and black is not None]


def left_of(log: Snapshot, order: Order) -> int:
    """Prints an order still asks for: those that wait for a verdict count as made, redo and scrap do not."""
    count = log.order_count(order.id)
    return max(0, order.prints - count.kept - count.waiting)


def black_of(log: Snapshot, order: Order) -> Black | None:
    """The black an order asks for: its own, else its paper's."""
    if order.black is not None:
        return order.black
    paper = log.get(Paper, order.paper)
    return paper.black if paper is not None else None


def waiting(orders: Iterable[OrderLeft]) -> Waiting:
    """What is left of the orders, in prints."""
    count: Counter[Black] = Counter()
    for asked in orders:
        count[asked.black] += asked.left
    return Waiting(count["matte"], count["photo"])
