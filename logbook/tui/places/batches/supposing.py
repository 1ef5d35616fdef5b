"""What is supposed at the place Batches, key by key; nothing of it is saved."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.records import Order
from logbook.records.fields import Black, Direction
from logbook.reports.batch.model import BatchAnswer, Changes, OrderLine

__all__ = ["Supposing"]

STEP = 1.1
STEP_FROM_NOTHING = 5.0


class Supposing:
    """Collects changes against what is logged."""

    def __init__(self) -> None:
        self.changes = Changes()
        self._logged: dict[Direction, float] = {}
        self._steps = 0

    def learn(self, answer: BatchAnswer) -> None:
        """Take what changeovers cost by the log, from which steps are made."""
        if not self._steps:
            self._logged = {way: cost.value for way, cost in answer.basis.changeover_cost.items()}

    def step_cost(self, steps: int) -> None:
        """Changeovers a tenth dearer or cheaper; from nothing, by a small sum."""
        self._steps += steps
        costs = {
            way: cost * STEP**self._steps if cost else max(0.0, STEP_FROM_NOTHING * self._steps)
            for way, cost in self._logged.items()
        }
        self.changes = msgspec.structs.replace(self.changes, changeover_cost=costs if self._steps else {})

    def add_print(self, black: Black, today: dt.date) -> None:
        """One more print of a black on order; those supposed for one black are one order."""
        name = f"supposed-{black}"
        known = next((order for order in self.changes.extra if order.id == name), None)
        prints = known.prints + 1 if known is not None else 1
        order = Order(id=name, title=f"supposed, {black}", prints=prints, black=black, taken=today)
        others = tuple(other for other in self.changes.extra if other.id != name)
        self.changes = msgspec.structs.replace(self.changes, extra=(*others, order))

    def move(self, order: OrderLine, days: int, today: dt.date) -> None:
        """An order promised some days later, or earlier; one without a date starts from today."""
        # A second key may come before the first one's answer.
        known = self.changes.promised.get(order.id, order.promised)
        day = (known or today) + dt.timedelta(days=days)
        self.changes = msgspec.structs.replace(self.changes, promised={**self.changes.promised, order.id: day})

    def is_supposed(self, order_id: str) -> bool:
        """Whether an order is only supposed."""
        return any(order.id == order_id for order in self.changes.extra)

    def clear(self) -> None:
        """Suppose nothing."""
        self.changes = Changes()
        self._steps = 0
