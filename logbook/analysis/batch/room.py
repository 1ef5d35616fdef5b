"""What fits on one bench day: how far the orders of each black get, with and without a changeover."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from logbook.analysis.numeric.arrays import NDArray

__all__ = ["Counts", "DayOptions", "Room", "day_options", "fitting", "options_at_most", "staying"]

Counts = NDArray[np.intp]

# Tolerance for floating-point sums: three times 0.1 must still fit in 0.3.
ROUNDING_MINUTES = 1e-6


class Room(NamedTuple):
    """Minutes of a bench day, and what a changeover takes of them; ``begun``: some of the day are gone already.

    Work longer than a bench day takes a whole day, so it never fits on a day that has begun.
    """

    minutes: float
    changeover_minutes: float
    begun: bool = False

    @property
    def beside_changeover(self) -> float:
        """Minutes left for printing on a day with a changeover; below 0 where that is longer than the day."""
        return self.minutes - self.changeover_minutes

    @property
    def for_changeover(self) -> bool:
        """Whether a changeover can be made on the day."""
        return not self.begun or self.beside_changeover >= -ROUNDING_MINUTES


class DayOptions(NamedTuple):
    """The options of a bench day in every state; arrays have the shape (options, 2·S).

    A state is (loaded black, matte orders done, photo orders done); its index is
    (black·(M+1) + matte)·(P+1) + photo, so that S = (M+1)·(P+1) and black 0 is matte. The first option stays, the
    others exchange, after 0, 1, 2 … orders of the loaded black. What cannot be done is not ``allowed``.
    """

    child: Counts
    allowed: NDArray[np.bool_]


def fitting(minutes: NDArray[np.float64], room: float) -> Counts:
    """How many orders fit into ``room`` minutes from each place in the sequence on, shape (n + 1,).

    >>> fitting(np.array([30.0, 40.0, 20.0]), 65).tolist()
    [1, 2, 1, 0]
    """
    done = np.concatenate([[0.0], np.cumsum(minutes)])
    reached = np.searchsorted(done, done + room + ROUNDING_MINUTES, side="right") - 1
    count: Counts = np.maximum(reached - np.arange(len(done)), 0)
    return count


def staying(minutes: NDArray[np.float64], room: Room) -> Counts:
    """Orders printed on a day without changeover, from each place on, shape (n + 1,).

    As many as fit: an order printed earlier never costs more. One that is longer than a day takes a whole one.

    >>> staying(np.array([30.0, 400.0, 20.0]), Room(65, 30)).tolist()
    [1, 1, 1, 0]
    """
    count = fitting(minutes, room.minutes)
    return count if room.begun else np.maximum(count, (np.arange(len(count)) < len(minutes)).astype(np.intp))


def options_at_most(matte: NDArray[np.float64], photo: NDArray[np.float64], room: Room) -> int:
    """Size of the arrays that ``day_options`` makes for the same arguments."""
    most = max(int(fitting(minutes, room.beside_changeover).max()) for minutes in (matte, photo))
    return 2 * (most + 2) * (len(matte) + 1) * (len(photo) + 1)


def day_options(matte: NDArray[np.float64], photo: NDArray[np.float64], room: Room) -> DayOptions:
    """All options of a bench day for orders of these minutes, in their sequences."""
    from_matte = _options(matte, photo, room)
    from_photo = _options(photo, matte, room)
    size = (len(matte) + 1) * (len(photo) + 1)
    options = max(len(from_matte), len(from_photo))
    child = np.tile(np.arange(2 * size), (options, 1))
    allowed = np.zeros((options, 2 * size), dtype=bool)
    for black, moves in enumerate((from_matte, from_photo)):
        for option, (own, other, possible) in enumerate(moves):
            grid = own * (len(photo) + 1) + other if black == 0 else (other * (len(photo) + 1) + own).T
            loaded = black if option == 0 else 1 - black
            there = possible if black == 0 else possible.T
            mine = slice(black * size, (black + 1) * size)
            child[option, mine] = np.where(there, loaded * size + grid, child[option, mine].reshape(there.shape)).ravel()
            allowed[option, mine] = there.ravel()
    for done in (size - 1, 2 * size - 1):
        allowed[1:, done] = False
    return DayOptions(child, allowed)


def _options(own: NDArray[np.float64], other: NDArray[np.float64], room: Room) -> list[tuple[Counts, Counts, NDArray[np.bool_]]]:
    """Orders done after each option, (own, other, possible), each of shape (own + 1, other + 1)."""
    shape = (len(own) + 1, len(other) + 1)
    at, beside = np.arange(shape[0])[:, None], np.arange(shape[1])[None, :]
    everywhere = np.ones(shape, dtype=bool)
    moves = [(np.broadcast_to(at + staying(own, room)[:, None], shape), np.broadcast_to(beside, shape), everywhere)]
    done_own = np.concatenate([[0.0], np.cumsum(own)])
    done_other = np.concatenate([[0.0], np.cumsum(other)])
    if not room.for_changeover:
        return moves
    most = fitting(own, room.beside_changeover)
    for before in range(int(most.max()) + 1):
        possible = before <= most
        reached = np.minimum(np.arange(shape[0]) + before, len(own))
        left = room.beside_changeover - (done_own[reached] - done_own)
        there = np.searchsorted(done_other, done_other[None, :] + left[:, None] + ROUNDING_MINUTES, side="right") - 1
        then = np.maximum(there, beside)
        moves.append((np.broadcast_to(reached[:, None], shape), then, np.broadcast_to(possible[:, None], shape)))
    return moves
