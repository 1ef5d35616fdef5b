"""Which papers come out the same every time."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.consistency import consistency, spread
from tests.analysis.test_terms import texts


def test_the_steady_paper_comes_first() -> None:
    rng = np.random.default_rng(1)
    paper = texts(*["rag"] * 60, *["satin"] * 60)
    darkness = np.concatenate([np.rint(3 * rng.normal(0, 0.15, 60)), np.rint(3 * rng.normal(0, 0.6, 60))])
    nothing = texts(*[None] * 120)
    steady, other = consistency(paper, darkness, nothing, nothing)
    assert (steady.paper, other.paper) == ("rag", "satin")
    assert steady.first_attempts == 0


def test_only_first_attempts_with_a_verdict_count() -> None:
    paper = texts(*["rag"] * 5)
    verdict = texts("keep", "redo", None, "keep", "keep")
    attempt = texts(None, None, None, "p1", "p2")
    [found] = consistency(paper, np.full(5, np.nan), verdict, attempt)
    assert found.first_attempts == 2
    assert found.kept_first.value == 0.5
    assert found.spread_stops is None


def test_the_spread_leaves_out_what_rounding_adds() -> None:
    rng = np.random.default_rng(2)
    stops = np.rint(3 * rng.normal(0, 0.3, 5000)) / 3
    found = spread(stops)
    assert found is not None
    assert found.value == pytest.approx(0.3, abs=0.01)
    assert stops.std() > 0.305


def test_spreads_cover() -> None:
    rng = np.random.default_rng(3)
    held = 0
    for _ in range(300):
        found = spread(np.rint(3 * rng.normal(0, 0.4, 25)) / 3)
        assert found is not None
        held += not found.excludes(0.4)
    assert 0.86 <= held / 300 <= 0.94


def test_four_ratings_give_no_spread() -> None:
    assert spread(np.array([0.0, 1 / 3, 0.0, -1 / 3])) is None
