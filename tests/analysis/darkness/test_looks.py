"""What looking at a print again tells."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.looks import DryDown, Looks, look_spread
from logbook.analysis.darkness.looks import dry_down as of_looks
from logbook.analysis.numeric.arrays import NDArray
from tests.analysis.darkness.test_terms import texts

Floats = NDArray[np.float64]
TextArray = NDArray[np.object_]


def dry_down(print: TextArray, darkness: Floats, hours: Floats, light: TextArray, day: TextArray | None = None) -> DryDown | None:
    return of_looks(Looks(print, light, texts(*["monday"] * len(print)) if day is None else day, hours, darkness))


def test_prints_that_dry_darker_are_seen() -> None:
    ids = texts("a", "a", "b", "b", "c", "c")
    found = dry_down(ids, np.array([0.0, -1, 1, 0, 0, -1]), np.array([0.1, 24.0] * 3), texts(*["wall"] * 6))
    assert found is not None and found.change_stops is not None
    assert found.prints == 3
    assert found.change_stops.value == pytest.approx(-1 / 3)
    assert found.wet_hours == pytest.approx(0.1)
    assert found.dry_hours == 24.0


def test_another_light_is_not_drying() -> None:
    assert dry_down(texts("a", "a"), np.array([0.0, -1]), np.array([0.1, 24]), texts("wall", "window")) is None


def test_two_looks_within_the_hour_are_not_drying() -> None:
    assert dry_down(texts("a", "a"), np.array([0.0, -1]), np.array([0.1, 0.6]), texts("wall", "wall")) is None


def test_without_hours_there_is_nothing() -> None:
    assert dry_down(texts("a", "a"), np.array([0.0, -1]), np.full(2, np.nan), texts("wall", "wall")) is None


def test_one_print_gives_no_interval() -> None:
    found = dry_down(texts("a", "a"), np.array([0.0, -1]), np.array([0.1, 24]), texts(None, None))
    assert found is not None and found.change_stops is None


def test_equal_changes_are_not_known_better_than_their_rounding() -> None:
    ids = texts(*[name for n in range(10) for name in (f"p{n}", f"p{n}")])
    found = dry_down(ids, np.array([0.0, -1] * 10), np.array([0.1, 24] * 10), texts(*["wall"] * 20))
    assert found is not None and found.change_stops is not None
    assert found.change_stops.width > 0.1


def test_an_hour_between_is_enough() -> None:
    assert dry_down(texts("a", "a"), np.array([0.0, -1]), np.array([0.5, 1.5]), texts("wall", "wall")) is not None
    assert dry_down(texts("a", "a"), np.array([0.0, -1]), np.array([0.5, 1.4]), texts("wall", "wall")) is None


def test_two_prints_are_as_sure_as_students_t_says() -> None:
    """Changes of -3 and 3 thirds: sd sqrt(2), standard error 1, 6.314 for one degree of freedom."""
    found = dry_down(texts("a", "a", "b", "b"), np.array([0.0, -3, 0, 3]), np.array([0.1, 24] * 2), texts(*["wall"] * 4))
    assert found is not None and found.change_stops is not None
    assert found.changes == (-3, 3)
    assert [found.change_stops.value, found.change_stops.high] == pytest.approx([0.0, 6.313752])


def test_two_equal_changes_are_known_to_their_rounding() -> None:
    """Two readings in thirds each: variance 2 * (1 / 3)^2 / 12, of a mean of two half of that."""
    found = dry_down(texts("a", "a", "b", "b"), np.array([0.0, -1, 1, 0]), np.array([0.1, 24] * 2), texts(*["wall"] * 4))
    assert found is not None and found.change_stops is not None
    assert found.change_stops.width == pytest.approx(2 * 6.313752 * (1 / 9 / 12) ** 0.5)


def test_the_wettest_and_the_driest_of_several_looks_are_compared() -> None:
    hours = np.array([5.0, 0.2, 48.0, 24.0])
    found = dry_down(texts(*["a"] * 4), np.array([-1.0, 2, -3, 4]), hours, texts(*["wall"] * 4))
    assert found is not None
    assert (found.prints, found.changes, found.wet_hours, found.dry_hours) == (1, (-5,), 0.2, 48.0)


def test_a_judgement_without_darkness_or_hours_is_passed_over() -> None:
    darkness, hours = np.array([0.0, np.nan, -2.0, -6.0]), np.array([0.2, 0.1, 24.0, np.nan])
    found = dry_down(texts(*["a"] * 4), darkness, hours, texts(*["wall"] * 4))
    assert found is not None and found.changes == (-2,)


def test_a_day_on_which_only_some_were_looked_at_again_does_not_count() -> None:
    """Those that were looked at again may have been the unwelcome ones: they come out better by chance."""
    ids, day = texts("a", "b", "b", "c", "c"), texts("monday", "monday", "monday", "tuesday", "tuesday")
    found = dry_down(ids, np.array([0.0, -2, 0, 0, -1]), np.array([1.0, 0.1, 24, 0.1, 24]), texts(*["wall"] * 5), day)
    assert found is not None and found.changes == (-1,)


def _twice(count: int, sd: float, seed: int = 5) -> Looks:
    rng = np.random.default_rng(seed)
    seen = np.repeat(rng.normal(size=count), 2) + sd * rng.normal(size=2 * count)
    ids = texts(*(name for n in range(count) for name in (f"p{n}", f"p{n}")))
    column = texts(*["wall"] * (2 * count))
    return Looks(ids, column, column, np.full(2 * count, np.nan), np.rint(3 * seen))


def test_the_spread_of_a_look_is_that_between_two_looks_at_one_print() -> None:
    found = look_spread(_twice(2000, 0.2))
    assert found is not None and found[1] == 2000
    assert found[0].value == pytest.approx(0.2, abs=0.01)
    held = 0
    for seed in range(200):
        again = look_spread(_twice(20, 0.3, seed))
        assert again is not None
        held += not again[0].excludes(0.3)
    assert 0.85 <= held / 200 <= 0.95


def test_a_few_prints_judged_twice_give_no_spread() -> None:
    assert look_spread(_twice(7, 0.2)) is None
