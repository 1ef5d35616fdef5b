"""An order as the plan sees it: what is left to print of it."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.records.fields import BLACKS, Black

__all__ = ["OpenOrder", "in_sequence", "sequence_key"]


class OpenOrder(msgspec.Struct, frozen=True, kw_only=True):
    """What is left of an order: ``prints`` (from 1), and the ``minutes`` they take (from 0).

    Costs are money per calendar day, from 0: waiting from today on, and late after ``free_until``, the last day on which
    its date costs nothing (None: it is never late). One that was not ``promised`` is not called late: what it costs after
    that day is the price of waiting too long.
    """

    id: str
    black: Black
    prints: int
    minutes: float
    taken: dt.date
    promised: dt.date | None = None
    free_until: dt.date | None = None
    late_cost_per_day: float = 1.0
    wait_cost_per_day: float = 0.0

    def late_cost(self, day: dt.date) -> float:
        """What its date costs if the order is printed on ``day``.

        >>> order = OpenOrder(id="a", black="matte", prints=1, minutes=9, taken=dt.date(2026, 1, 1),
        ...                   promised=dt.date(2026, 1, 5), free_until=dt.date(2026, 1, 4), late_cost_per_day=2)
        >>> order.late_cost(dt.date(2026, 1, 7)), order.late_cost(dt.date(2026, 1, 2))
        (6.0, 0.0)
        """
        days = 0 if self.free_until is None else max(0, (day - self.free_until).days)
        return float(self.late_cost_per_day * days)

    def wait_cost(self, day: dt.date, today: dt.date) -> float:
        """What waiting from ``today`` to ``day`` costs."""
        return float(self.wait_cost_per_day * (day - today).days)


def sequence_key(order: OpenOrder) -> tuple[dt.date, dt.date, str]:
    """Orders of one black are printed in this sequence: promised (none: last), taken, id."""
    return order.promised or dt.date.max, order.taken, order.id


def in_sequence(orders: list[OpenOrder]) -> dict[Black, list[OpenOrder]]:
    """The orders of each black in the sequence in which they are printed."""
    ordered = sorted(orders, key=sequence_key)
    return {black: [order for order in ordered if order.black == black] for black in BLACKS}
