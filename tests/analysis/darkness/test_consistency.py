"""Which papers come out the same every time."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.consistency import consistency, spread
from tests.analysis.darkness.test_terms import texts


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


def test_five_ratings_give_a_spread_and_its_interval_is_that_of_a_chi_square() -> None:
    """Variance 10/4 of -2 to 2 stops; the 5 % and 95 % points of chi-square with 4 degrees are 0.7107 and 9.4877
    (NIST/SEMATECH e-Handbook, 1.3.6.7.4), to which the approximation comes within a few percent."""
    found = spread(np.array([-2.0, -1.0, 0.0, 1.0, 2.0]))
    assert found is not None
    rounding = 1 / 9 / 12
    assert found.value == pytest.approx((2.5 - rounding) ** 0.5)
    assert found.low == pytest.approx((10 / 9.4877 - rounding) ** 0.5, rel=0.005)
    assert found.high == pytest.approx((10 / 0.7107 - rounding) ** 0.5, rel=0.03)


def test_many_ratings_have_the_ends_of_the_printed_table() -> None:
    """Chi-square with 100 degrees: 77.929 and 124.342 (the same table)."""
    found = spread(np.array([*[-1.0, 1.0] * 50, 0.0]))
    assert found is not None
    assert found.low == pytest.approx((100 / 124.342 - 1 / 108) ** 0.5, rel=1e-3)
    assert found.high == pytest.approx((100 / 77.929 - 1 / 108) ** 0.5, rel=1e-3)


def test_readings_all_alike_have_no_spread_but_their_rounding() -> None:
    found = spread(np.zeros(6))
    assert found is not None
    assert (found.value, found.low, found.high) == (0.0, 0.0, 0.0)


def test_papers_with_too_few_ratings_come_last_the_most_printed_first() -> None:
    paper = texts(*["few"] * 2, *["more"] * 4, *["steady"] * 5)
    darkness = np.zeros(11)
    nothing = texts(*[None] * 11)
    assert [one.paper for one in consistency(paper, darkness, nothing, nothing)] == ["steady", "more", "few"]
    assert [one.prints for one in consistency(paper, darkness, nothing, nothing)] == [5, 4, 2]


def test_a_paper_has_the_spread_of_its_own_ratings() -> None:
    paper = texts(*["rag", "satin"] * 5)
    darkness = np.array([-6.0, 0, -3, 0, 0, 0, 3, 0, 6, 0])
    steady, other = consistency(paper, darkness, texts(*[None] * 10), texts(*[None] * 10))
    assert (steady.paper, other.paper) == ("satin", "rag")
    assert other.spread_stops is not None
    assert other.spread_stops.value == pytest.approx((2.5 - 1 / 108) ** 0.5)
