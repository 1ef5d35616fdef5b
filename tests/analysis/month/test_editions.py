"""Editions: what is given, what is next, and what is wrong."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from logbook.analysis.month.editions import edition


def test_the_first_number_of_a_new_edition_is_one() -> None:
    assert edition([], size=None).next_number == 1
    assert edition([], size=5).next_number == 1


def test_the_last_number_is_still_free_and_after_it_none_is() -> None:
    assert edition([1, 2, 3, 4], size=5).next_number == 5
    assert edition([1, 2, 3, 4, 5], size=5).next_number is None


def test_an_edition_without_a_size_never_fills() -> None:
    assert edition(range(1, 301), size=None).next_number == 301
    assert edition([400], size=None).beyond == ()


def test_the_last_number_of_an_edition_is_not_beyond_it() -> None:
    assert edition([5, 6], size=5).beyond == (6,)


@given(st.lists(st.integers(1, 30)), st.none() | st.integers(1, 20))
def test_the_next_number_is_the_smallest_that_nobody_has(numbers: list[int], size: int | None) -> None:
    told = edition(numbers, size)
    free = [number for number in range(1, 32) if number not in numbers and (size is None or number <= size)]
    assert told.next_number == (free[0] if free else None)
    assert set(told.twice) == {number for number in numbers if numbers.count(number) > 1}


@pytest.mark.parametrize("size", [None, 3])
def test_a_number_given_twice_is_named_once(size: int | None) -> None:
    assert edition([2, 2, 2], size).twice == (2,)
