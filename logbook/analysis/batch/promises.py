"""Whether each order keeps its date: the plan carried out many times, with attempts that turn out as they may.

Work that does not fit into a day goes on in the next; a changeover is made on one day. What the paper and ink at hand do
not reach is not ready either.
"""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from logbook.analysis.batch.attempts import Attempts
from logbook.analysis.batch.entries import Entry
from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.problem import Terms
from logbook.analysis.numeric.arrays import NDArray
from logbook.records.fields import BLACKS, Black

__all__ = ["SAFE", "Keeping", "Promises", "Supply"]

Floats = NDArray[np.float64]

SCENARIOS = 1_000
#: A day is safe where a changeover on it keeps the date at least this often.
SAFE = 0.9
TINY = 1e-6


@dataclass(frozen=True)
class Supply:
    """An ink, or a paper's open stock: what is ``left``, and what it takes: one print of an order (by id), one changeover
    to a black. All in one unit."""

    name: str
    left: float
    per_print: Mapping[str, float]
    per_exchange: Mapping[Black, float]


@dataclass(frozen=True)
class Keeping:
    """The ``chance`` that an order is ready by its date, and the ``latest`` day of a changeover that is safe for it.

    ``latest`` is None where the black is loaded, or no day is safe; ``short`` names what runs out before it in more than
    one case of ten.
    """

    chance: float | None
    latest: dt.date | None
    short: tuple[str, ...]


@dataclass(frozen=True)
class Promises:
    """The orders of a plan with their drawn work; ``days`` are the bench days from ``today`` on, more than the plan takes."""

    orders: Sequence[OpenOrder]
    plan: Sequence[Entry]
    loaded: Black
    terms: Terms
    attempts: Mapping[Black, Attempts]
    supplies: Sequence[Supply]
    today: dt.date
    days: Sequence[dt.date]

    def keeping(self) -> dict[str, Keeping]:
        """For each planned order, by id."""
        done, short = self._done(), self._short()
        latest = self._latest_safe_days()
        found = {}
        for order in self._planned:
            there = np.ones(SCENARIOS, dtype=bool)
            for name in short[order.id]:
                there &= ~short[order.id][name]
            ready = there & (done[order.id] <= self._last_day(order))
            wanting = tuple(name for name, out in short[order.id].items() if out.mean() > 1 - SAFE)
            chance = float(ready.mean()) if order.promised is not None else None
            found[order.id] = Keeping(chance, latest.get(order.id), wanting)
        return found

    @cached_property
    def _planned(self) -> list[OpenOrder]:
        """The orders of the plan, in the sequence of the work."""
        orders = {order.id: order for order in self.orders}
        return [orders[name] for entry in self.plan for name in entry.orders]

    @cached_property
    def _prints(self) -> dict[str, Floats]:
        """Prints that each order takes until its last keeper, by id, each (scenarios,)."""
        draw = np.random.default_rng(1)
        return {order.id: self.attempts[order.black].needed(draw, order.prints, SCENARIOS) for order in self._planned}

    def _minutes(self, order: OpenOrder) -> Floats:
        usual = order.prints * self.attempts[order.black].each
        return np.asarray(order.minutes * self._prints[order.id] / usual)

    def _last_day(self, order: OpenOrder) -> int:
        """The last bench day, as an index, on which it is still in time; -1 where that has gone by."""
        if order.free_until is None:
            return len(self.days)
        return sum(day <= order.free_until for day in self.days) - 1

    def _full(self, day: NDArray[np.intp]) -> Floats:
        """Minutes of a day; of today what is left."""
        begun = self.terms.used_today if self.days[0] == self.today else 0.0
        return np.where(day == 0, max(0.0, self.terms.minutes_per_day - begun), self.terms.minutes_per_day)

    def _done(self) -> dict[str, NDArray[np.intp]]:
        """The day, as an index, on which each order is finished: the plan's sequence, nothing before its planned day."""
        orders = {order.id: order for order in self._planned}
        place = {day: number for number, day in enumerate(self.days)}
        day = np.zeros(SCENARIOS, dtype=np.intp)
        left, done = self._full(day), {}
        for entry in self.plan:
            start = place[entry.date]
            left = np.where(day < start, self._full(np.full(SCENARIOS, start)), left)
            day = np.maximum(day, start)
            if entry.changeover:
                tomorrow = self.terms.changeover_minutes > left + TINY
                day = day + tomorrow
                left = np.maximum(0.0, np.where(tomorrow, self.terms.minutes_per_day, left) - self.terms.changeover_minutes)
            for name in entry.orders:
                more = np.maximum(0.0, self._minutes(orders[name]) - left)
                days = np.ceil(more / self.terms.minutes_per_day - TINY).astype(np.intp)
                left = np.where(days > 0, days * self.terms.minutes_per_day - more, left - self._minutes(orders[name]))
                day = day + days
                done[name] = day
        return done

    def _short(self) -> dict[str, dict[str, NDArray[np.bool_]]]:
        """Where each supply is used up before an order is finished, by order and supply."""
        used = {supply.name: np.zeros(SCENARIOS) for supply in self.supplies}
        found: dict[str, dict[str, NDArray[np.bool_]]] = {order.id: {} for order in self._planned}
        for entry in self.plan:
            for supply in self.supplies:
                used[supply.name] += supply.per_exchange.get(entry.black, 0.0) * entry.changeover
                for name in entry.orders:
                    takes = supply.per_print.get(name, 0.0)
                    if takes:
                        used[supply.name] += takes * self._prints[name]
                        found[name][supply.name] = used[supply.name] > supply.left + TINY
        return found

    def _latest_safe_days(self) -> dict[str, dt.date]:
        """For the orders of the other black: the last day of a changeover after which nine in ten are in time."""
        other = BLACKS[1 - BLACKS.index(self.loaded)]
        found, work = {}, np.zeros(SCENARIOS)
        full = self.terms.minutes_per_day
        for order in self._planned:
            if order.black != other or order.free_until is None:
                continue
            work = work + self._minutes(order)
            last = self._last_day(order)
            for day in range(last, -1, -1):
                room = float(self._full(np.array(day))) - self.terms.changeover_minutes
                if room < 0 and day == 0:
                    break
                days = np.ceil(np.maximum(0.0, work - max(0.0, room)) / full - TINY)
                if (day + days <= last).mean() >= SAFE:
                    found[order.id] = self.days[day]
                    break
        return found
