"""What fits on a bench day, against adding the minutes up one order after the other."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.batch.room import Room, day_options, fitting, options_at_most, staying

MATTE, PHOTO = [30.5, 10.25, 100.0], [20.0, 15.75]
ROOM = Room(60.0, 4.0)


def _count(minutes: list[float], room: float) -> int:
    """Orders from the first on whose minutes add up to no more than the room."""
    count = 0
    while count < len(minutes) and sum(minutes[: count + 1]) <= room:
        count += 1
    return count


def _state(black: int, matte: int, photo: int) -> int:
    return (black * (len(MATTE) + 1) + matte) * (len(PHOTO) + 1) + photo


def _after(black: int, done: tuple[int, int], before: int | None) -> int | None:
    """The state after a day that stays (None) or exchanges after so many orders; None where that cannot be done."""
    queues = MATTE, PHOTO
    then = list(done)
    own, other = queues[black][done[black] :], queues[1 - black][done[1 - black] :]
    if before is None:
        then[black] += max(_count(own, ROOM.minutes), 1 if own else 0)
        return _state(black, *then)
    if before > _count(own, ROOM.minutes - ROOM.changeover_minutes) or done == (len(MATTE), len(PHOTO)):
        return None
    then[black] += before
    then[1 - black] += _count(other, ROOM.minutes - ROOM.changeover_minutes - sum(own[:before]))
    return _state(1 - black, *then)


def test_every_option_of_every_state_is_what_the_minutes_say() -> None:
    options = day_options(np.array(MATTE), np.array(PHOTO), ROOM)
    for black in (0, 1):
        for matte in range(len(MATTE) + 1):
            for photo in range(len(PHOTO) + 1):
                here = _state(black, matte, photo)
                for number in range(len(options.child)):
                    there = _after(black, (matte, photo), None if number == 0 else number - 1)
                    found = int(options.child[number, here]) if options.allowed[number, here] else None
                    assert found == there, (black, matte, photo, number)


def test_the_size_told_beforehand_is_the_size_made() -> None:
    arguments = np.array(MATTE), np.array(PHOTO), ROOM
    assert options_at_most(*arguments) == day_options(*arguments).child.size


def test_minutes_that_meet_the_room_fit_and_a_second_more_does_not() -> None:
    tenths = np.array([0.1, 0.1, 0.1])
    assert fitting(tenths, 0.3).tolist() == [3, 2, 1, 0]
    assert fitting(np.array([30.0, 30.0]), 60.0 - 1 / 60).tolist() == [1, 1, 0]


def test_a_changeover_longer_than_the_day_leaves_room_for_nothing() -> None:
    room = Room(60.0, 75.0)
    assert room.beside_changeover == -15.0
    options = day_options(np.array([10.0]), np.array([10.0]), room)
    assert options.allowed.sum(axis=1).tolist() == [8, 6]
    assert options.child[1, 0] == 4  # exchanged, and nothing printed


@pytest.mark.parametrize(("minutes", "printed"), [([70.0, 10.0], [1, 1, 0]), ([20.0, 30.0, 40.0], [2, 1, 1, 0])])
def test_a_day_without_changeover_prints_what_fits_and_at_least_one(minutes: list[float], printed: list[int]) -> None:
    assert staying(np.array(minutes), Room(60.0, 4.0)).tolist() == printed


def test_the_black_of_which_more_fit_decides_the_size() -> None:
    arguments = np.array([10.0] * 5), np.array([50.0]), ROOM
    assert options_at_most(*arguments) == day_options(*arguments).child.size == 2 * 7 * 6 * 2
