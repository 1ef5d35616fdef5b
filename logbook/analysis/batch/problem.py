"""The batch problem in arrays: what is to be printed, in which room, at which cost."""

from __future__ import annotations

import datetime as dt
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from logbook.analysis.batch.open_order import OpenOrder, in_sequence
from logbook.analysis.batch.room import Counts, DayOptions, Room, day_options, fitting, staying
from logbook.analysis.numeric.arrays import NDArray
from logbook.records.fields import BLACKS, Black

__all__ = ["Daily", "Problem", "Terms"]

Ints = NDArray[np.int64]

# Costs become whole numbers of this part of a unit of money, so that equal plans are equal to the last digit.
FINEST = 1_000_000_000
LARGEST_TOTAL = 2**59


@dataclass(frozen=True)
class Terms:
    """What the bench offers: minutes, and the money a changeover costs by the black it brings.

    ``used_today``: minutes of today that are gone already.
    """

    minutes_per_day: float
    changeover_minutes: float
    cost_to_matte: float
    cost_to_photo: float
    used_today: float = 0.0

    def cost_from(self, black: Black) -> float:
        """Money for exchanging ``black`` for the other."""
        return self.cost_to_photo if black == "matte" else self.cost_to_matte


@dataclass(frozen=True)
class Daily:
    """One kind of bench day: its room, and what fits into it of orders that take these ``minutes`` in their sequences."""

    room: Room
    minutes: tuple[NDArray[np.float64], NDArray[np.float64]]

    @cached_property
    def staying(self) -> tuple[Counts, Counts]:
        """Orders of each queue printed without changeover, from each place on."""
        matte, photo = (staying(minutes, self.room) for minutes in self.minutes)
        return matte, photo

    @cached_property
    def beside_changeover(self) -> tuple[Counts, Counts]:
        """Orders of each queue that fit beside a changeover, from each place on."""
        matte, photo = (fitting(minutes, self.room.beside_changeover) for minutes in self.minutes)
        return matte, photo

    @cached_property
    def options(self) -> DayOptions:
        """Every option of such a day, in every state."""
        return day_options(*self.minutes, self.room)


@dataclass(frozen=True)
class Problem:
    """Orders in their sequences, the loaded black, the terms, and the bench days that may be used."""

    orders: tuple[OpenOrder, ...]
    loaded: Black
    terms: Terms
    today: dt.date
    days: tuple[dt.date, ...]

    @cached_property
    def queues(self) -> tuple[list[OpenOrder], list[OpenOrder]]:
        """Matte and photo orders, each in sequence."""
        queues = in_sequence(list(self.orders))
        return queues["matte"], queues["photo"]

    @cached_property
    def minutes(self) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
        """Minutes of the orders of each queue."""
        matte, photo = (np.array([order.minutes for order in queue], dtype=np.float64) for queue in self.queues)
        return matte, photo

    def on(self, day: int) -> Daily:
        """What fits on a day (an index): less on today where some of it is gone."""
        return self._today if day == 0 and self.days[:1] == (self.today,) else self._usual

    @cached_property
    def _usual(self) -> Daily:
        return Daily(Room(self.terms.minutes_per_day, self.terms.changeover_minutes), self.minutes)

    @cached_property
    def _today(self) -> Daily:
        left = max(0.0, self.terms.minutes_per_day - self.terms.used_today)
        return (
            Daily(Room(left, self.terms.changeover_minutes, begun=True), self.minutes) if self.terms.used_today else self._usual
        )

    @property
    def black(self) -> int:
        """Index of the loaded black: 0 matte, 1 photo."""
        return BLACKS.index(self.loaded)

    @cached_property
    def scale(self) -> float:
        """Whole cost units per unit of money."""
        span = max(1, (self.days[-1] - self.today).days) if self.days else 1
        late = max([span] + [span + (self.today - order.free_until).days for order in self.orders if order.free_until])
        total = sum(order.late_cost_per_day * late + order.wait_cost_per_day * span for order in self.orders)
        total += (len(self.days) + 1) * max(self.terms.cost_to_matte, self.terms.cost_to_photo)
        return float(min(FINEST, LARGEST_TOTAL / max(total, 1.0)))

    @cached_property
    def order_costs(self) -> tuple[Ints, Ints]:
        """Cost of printing each order on each day, in cost units: (days, orders) for each queue."""
        elapsed = np.array([(day - self.today).days for day in self.days], dtype=np.float64)[:, None]
        matte, photo = (self._costs(queue, elapsed) for queue in self.queues)
        return matte, photo

    def _costs(self, queue: list[OpenOrder], elapsed: NDArray[np.float64]) -> Ints:
        never = elapsed[-1, 0] if len(elapsed) else 0.0
        allowed = [never if order.free_until is None else (order.free_until - self.today).days for order in queue]
        late = np.maximum(0.0, elapsed - np.array(allowed, dtype=np.float64)[None, :])
        late_rate = np.array([order.late_cost_per_day for order in queue], dtype=np.float64)
        wait_rate = np.array([order.wait_cost_per_day for order in queue], dtype=np.float64)
        return np.rint((late * late_rate + elapsed * wait_rate) * self.scale).astype(np.int64)

    def changeover_units(self, black: int) -> int:
        """Cost units of exchanging the black with this index for the other."""
        return round(self.terms.cost_from(BLACKS[black]) * self.scale)
