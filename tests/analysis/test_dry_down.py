"""The same print wet and dry."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.dry_down import dry_down
from tests.analysis.test_terms import texts


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
