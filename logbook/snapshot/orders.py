"""Orders that are open, what is left of each, and what waits of each black."""

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


def open_orders(log: Snapshot) -> list[Order]:
    """The orders that are neither done nor cancelled, in their sequence: promised (without a date last), taken, id."""
    orders = [order for order in log.all(Order) if order.closed is None]
    return sorted(orders, key=lambda order: (order.promised is None, order.promised or order.taken, order.taken, order.id))


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


def waiting(log: Snapshot) -> Waiting:
    """What is left of the open orders, in prints."""
    left = {"matte": 0, "photo": 0}
    for order in open_orders(log):
        black = black_of(log, order)
        if black is not None:
            left[black] += left_of(log, order)
    return Waiting(**left)
