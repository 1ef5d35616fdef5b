"""When to exchange the black while orders keep arriving: a rule for every number of waiting prints.

Two queues on one server with a set-up cost for changing between them. Each bench day: decide to stay or to exchange,
print what fits of the loaded black, pay for what still waits, and a Poisson number of prints of each black arrives
overnight. The rule of least average cost is found by relative value iteration (Puterman, M. L. (1994), Markov Decision
Processes, Wiley, section 8.5). Optimal rules of this kind have a switching curve: Hofri, M. and Ross, K. W. (1987),
SIAM Journal on Computing 16(2), 399-420; Koole, G. (1997), Theoretical Computer Science 182, 203-216 (switching
costs). In large volumes the rule becomes the economic lot size: Harris, F. W. (1913), Factory, The Magazine of
Management 10(2), 135-136.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from logbook.analysis.numeric.arrays import NDArray
from logbook.analysis.numeric.poisson import chances
from logbook.analysis.numeric.relative_value_iteration import AverageCost, Floats, relative_value_iteration
from logbook.records import long_work
from logbook.records.fields import BLACKS, Black

__all__ = ["Flow", "StandingRule", "standing_rule"]

Counts = NDArray[np.intp]

CURVE_TO = 20
FIRST_GRID, LARGEST_FIRST_GRID, LARGEST_GRID = 96, 144, 324
MOST_STEPS = 4_000
# Curves end here, well inside the grid, unless even an empty queue needs more.
SHOWN, SHOWN_IN_LARGE_VOLUMES = 60, 240
GROWTH = 1.5
# The bounds of the average cost, and how far it may move with the grid, as a share of it.
CLOSE = 1e-6
SAME = 1e-4
# Products of matrices up to this many multiplications are not spread over threads.
SMALL_PRODUCT = 250_000
# Two options this close, as a share of a day's cost, are equal: stay.
EQUAL = 1e-6


class Flow(NamedTuple):
    """Prints on order that arrive per bench day, and what a bench day does with them.

    ``room`` and ``room_after_exchange`` are prints of (matte, photo) that fit on a bench day without and with a changeover
    to it; costs are money: of a changeover to each black, and of one print that waits after a bench day.
    """

    matte_per_day: float
    photo_per_day: float
    room: tuple[int, int]
    room_after_exchange: tuple[int, int]
    cost_to_matte: float
    cost_to_photo: float
    waiting_cost: float

    @property
    def load(self) -> float:
        """Arrivals as a share of the room: from 1 on no rule keeps up."""
        matte, photo = self.room
        return self.matte_per_day / matte + self.photo_per_day / photo if matte and photo else math.inf


@dataclass(frozen=True, eq=False)
class StandingRule:
    """The rule: from how many prints of the other black on to exchange, and its average cost per bench day.

    ``exchange_from[black, own]`` is for 0 to ``most`` waiting prints of the loaded black; never is ``most + 1``.
    ``value[black, matte, photo]`` are the relative values of the states. ``settled``: a larger grid changes nothing of
    the curves for 0 to 20 waiting prints, nor of the average cost.

    Just above that number it can be best to stay once more, where one more batch would not fill its last day. That saves
    very little, so the rule is told by its first number alone.
    """

    exchange_from: Counts
    value: Floats
    average_cost: float
    settled: bool

    @property
    def most(self) -> int:
        """Largest number of waiting prints on the grid."""
        return int(self.exchange_from.shape[1]) - 1

    def says_exchange(self, loaded: Black, matte: int, photo: int) -> bool:
        """Whether to exchange ``loaded`` at these numbers of waiting prints (from 0; beyond the grid: its edge)."""
        own, other = (matte, photo) if loaded == "matte" else (photo, matte)
        return bool(min(other, self.most) >= self.exchange_from[BLACKS.index(loaded), min(own, self.most)])

    def least_to_exchange(self, loaded: Black, waiting: int) -> int | None:
        """The least number of waiting prints of the other black at which to exchange, or None where never.

        ``waiting`` are those of the loaded black. What lies beyond 60 is not told (None), unless it takes more than
        60 even where none of the loaded black waits: then the numbers go up to 240.
        """
        curve = self.exchange_from[BLACKS.index(loaded)]
        least = int(curve[min(waiting, self.most)])
        shown = SHOWN if curve[0] <= SHOWN else SHOWN_IN_LARGE_VOLUMES
        return least if least <= min(self.most * 2 // 3, shown) else None

    def curve(self, loaded: Black, to: int = CURVE_TO) -> tuple[int | None, ...]:
        """``least_to_exchange`` for 0 up to ``to`` waiting prints of the loaded black."""
        return tuple(self.least_to_exchange(loaded, waiting) for waiting in range(to + 1))


class _Grid:
    """One step of the process on a grid of 0 to ``most`` waiting prints of each black."""

    def __init__(self, flow: Flow, most: int) -> None:
        self.flow, self.most = flow, most
        self._matte, self._photo = _Arrivals(flow.matte_per_day, most), _Arrivals(flow.photo_per_day, most)
        self.scale = _scale(flow)
        waiting = np.arange(most + 1)
        self._waiting_cost = flow.waiting_cost * np.add.outer(waiting, waiting)

    def options(self, value: Floats) -> tuple[Floats, Floats]:
        """Cost of staying and of exchanging, then going on with ``value``; each (black, matte, photo)."""
        ends = self._waiting_cost + self._photo.of_photo(self._matte.of_matte(value))
        stay, exchange = np.empty_like(ends), np.empty_like(ends)
        (matte, photo), (matte_after, photo_after) = self.flow.room, self.flow.room_after_exchange
        _print_matte(ends[0], matte, stay[0])
        _print_matte(ends[1].T, photo, stay[1].T)
        _print_matte(ends[1].T, photo_after, exchange[0].T)
        _print_matte(ends[0], matte_after, exchange[1])
        exchange[0] += self.flow.cost_to_photo
        exchange[1] += self.flow.cost_to_matte
        return stay, exchange

    def improve(self, value: Floats) -> Floats:
        """The cheaper option in every state. Unlike ``options`` it makes no array for each option: on a large grid those do
        not fit the processor's cache."""
        ends = self._photo.of_photo(self._matte.of_matte(value))
        ends += self._waiting_cost
        best = np.empty_like(ends)
        (matte, photo), (matte_after, photo_after) = self.flow.room, self.flow.room_after_exchange
        _print_matte(ends[0], matte, best[0])
        _print_matte(ends[1].T, photo, best[1].T)
        _print_if_cheaper(ends[1].T, photo_after, self.flow.cost_to_photo, best[0].T)
        _print_if_cheaper(ends[0], matte_after, self.flow.cost_to_matte, best[1])
        return best

    def solve(self, start: Floats) -> AverageCost:
        """Least average cost per bench day."""
        return relative_value_iteration(self.improve, start, tolerance=CLOSE * self.scale, most_steps=MOST_STEPS)


def _print_matte(ends: Floats, room: int, into: Floats) -> None:
    """Costs before printing up to ``room`` along the first axis, from the costs after it (slices: no index arrays)."""
    into[:room] = ends[0]
    into[room:] = ends[: max(len(ends) - room, 0)]


def _print_if_cheaper(ends: Floats, room: int, price: float, best: Floats) -> None:
    """As ``_print_matte`` at a price; written into ``best`` wherever it is less."""
    np.minimum(best[:room], ends[0] + price, out=best[:room])
    rest = ends[: max(len(ends) - room, 0)] + price
    np.minimum(best[room:], rest, out=best[room:])


def _scale(flow: Flow) -> float:
    """The scale of the costs, for tolerances."""
    return max(flow.cost_to_matte, flow.cost_to_photo, flow.waiting_cost, 1e-6)


class _Arrivals:
    """Expected values before a night's arrivals of one black, from the values after it.

    What would leave the grid stays on its edge. Only the counts that can come are added up, in pieces so small that the
    linear algebra library does not spread them over threads: on a busy machine those wait for one another.
    """

    def __init__(self, mean: float, most: int) -> None:
        chance = chances(mean)
        reach, size = len(chance) - 1, most + 1
        matrix = np.zeros((size, size))
        for count, share in enumerate(chance):
            start = np.arange(size)
            np.add.at(matrix, (start, np.minimum(start + count, most)), share)
        rows = max(1, next((rows for rows in range(size, 0, -1) if rows * (rows + reach) * size <= SMALL_PRODUCT), 1))
        self._pieces = [
            (
                slice(start, start + rows),
                slice(start, start + rows + reach),
                matrix[start : start + rows, start : start + rows + reach],
            )
            for start in range(0, size, rows)
        ]

    def of_matte(self, value: Floats) -> Floats:
        """Over the second axis of (black, matte, photo)."""
        before = np.empty_like(value)
        for rows, columns, chance in self._pieces:
            before[:, rows] = chance @ value[:, columns]
        return before

    def of_photo(self, value: Floats) -> Floats:
        """Over the third axis."""
        before = np.empty_like(value)
        for rows, columns, chance in self._pieces:
            before[:, :, rows] = value[:, :, columns] @ chance.T
        return before


def _enlarged(value: Floats, most: int) -> Floats:
    """Values on a larger grid: beyond the old edge they go on as they went up to it."""
    old = value.shape[1] - 1
    index = np.arange(most + 1)
    inside = np.minimum(index, old)
    beyond = (index - inside)[:, None]
    wide = value[:, inside] + beyond * (value[:, -2:-1] - value[:, -3:-2])
    return np.asarray(wide[:, :, inside] + beyond.T * (wide[:, :, -2:-1] - wide[:, :, -3:-2]))


def _on_grid(flow: Flow, most: int, start: Floats) -> tuple[StandingRule, Floats]:
    long_work.step(f"finding the standing rule, up to {most} prints of each black")
    grid = _Grid(flow, most)
    found = grid.solve(start)
    stay, exchange = grid.options(found.value)
    better = exchange < stay - EQUAL * grid.scale
    return StandingRule(_first_numbers(better), found.value, found.cost, found.settled), found.value


def _first_numbers(better: NDArray[np.bool_]) -> Counts:
    """The first number of the other black's prints at which exchanging is better, (black, own); never fewer for more own."""
    lines = np.stack([better[0], better[1].T])
    first = np.where(lines.any(axis=2), lines.argmax(axis=2), lines.shape[2])
    rising: Counts = np.maximum.accumulate(first, axis=1)
    return rising


def _same(one: StandingRule, other: StandingRule, least: float) -> bool:
    close = abs(one.average_cost - other.average_cost) <= max(SAME * abs(other.average_cost), least)
    return close and all(one.curve(black) == other.curve(black) for black in BLACKS)


@lru_cache(maxsize=16)
def standing_rule(flow: Flow, covering: int = 0) -> StandingRule | None:
    """The rule of least average cost, or None where more prints arrive than any rule can print.

    The grid is enlarged until nothing reported changes; where there is room it reaches twice ``covering`` waiting prints.

    >>> rule = standing_rule(Flow(2, 1.5, (16, 16), (12, 12), 36, 35, 0.5))
    >>> rule.curve("matte", 4), round(rule.average_cost, 3), rule.says_exchange("matte", 0, 11)
    ((11, 14, 18, 23, 28), 7.732, True)
    """
    if flow.load >= 1:
        return None
    most = min(max(FIRST_GRID, 2 * covering), LARGEST_FIRST_GRID)
    rule, value = _on_grid(flow, most, np.zeros((2, most + 1, most + 1)))
    while most < LARGEST_GRID:
        most = min(int(most * GROWTH), LARGEST_GRID)
        larger, value = _on_grid(flow, most, _enlarged(value, most))
        if larger.settled and _same(rule, larger, CLOSE * _scale(flow)):
            return larger
        rule = larger
    return replace(rule, settled=False)
