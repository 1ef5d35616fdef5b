"""The lit paper against the screen."""

from __future__ import annotations

import math

import numpy as np
import pytest

from logbook.analysis.darkness.light import (
    CRITICAL_LX,
    PRACTICAL_LX,
    Surroundings,
    luminance_of_lit_paper,
    match,
    matching_illuminance,
)
from tests.analysis.darkness.test_terms import texts

PLACE = Surroundings({"wall": 500.0, "window": 2000.0}, {"desk": 120.0}, {"white": 0.9, "cream": 0.8})


@pytest.mark.parametrize(("lux", "cd_m2"), [(500, 143.24), (2000, 572.96), (200, 57.30)])
def test_lamberts_law(lux: float, cd_m2: float) -> None:
    # L = E rho / pi, computed by hand for rho = 0.9
    assert luminance_of_lit_paper(lux, 0.9) == pytest.approx(cd_m2, abs=0.005)


def test_the_matching_illuminance_matches() -> None:
    assert matching_illuminance(120, 0.9) == pytest.approx(418.9, abs=0.05)
    assert luminance_of_lit_paper(matching_illuminance(120, 0.8), 0.8) == pytest.approx(120)


def test_the_offset_is_in_stops() -> None:
    assert PLACE.offset("wall", "desk", "white") == pytest.approx(0.255, abs=0.001)
    assert PLACE.offset("window", "desk", "white") - PLACE.offset("wall", "desk", "white") == pytest.approx(2.0)


@pytest.mark.parametrize(("light", "screen"), [(None, "desk"), ("wall", None), ("cellar", "desk"), ("wall", "other")])
def test_what_is_not_known_has_no_offset(light: str | None, screen: str | None) -> None:
    assert math.isnan(PLACE.offset(light, screen, "white"))


def test_the_averages_agree_with_the_mean_offset() -> None:
    found = match(PLACE, texts("wall", "window", None), texts("desk", "desk", "desk"), texts("white", "cream", "white"))
    assert found is not None
    assert found.offset_stops == pytest.approx(np.log2(found.paper_cd_m2 / found.screen_cd_m2))
    assert found.match_screen_cd_m2 == found.paper_cd_m2


def test_nothing_known_gives_no_match() -> None:
    assert match(PLACE, texts(None), texts("desk"), texts("white")) is None


def test_a_paper_has_its_own_luminance_factor_and_others_the_usual_one() -> None:
    assert [PLACE.factor_of(paper) for paper in ("cream", "white", "unknown", None)] == [0.8, 0.9, 0.9, 0.9]
    assert PLACE.offset("wall", "desk", "cream") == pytest.approx(math.log2(500 * 0.8 / math.pi / 120))


def test_the_averages_are_geometric_and_over_known_prints_only() -> None:
    """500 and 2000 lx: 1000; factors 0.9 and 0.8: sqrt(0.72)."""
    found = match(PLACE, texts("wall", "window", None), texts("desk", "desk", "desk"), texts("white", "cream", "white"))
    assert found is not None
    assert found.illuminance_lx == pytest.approx(1000.0)
    assert found.paper_cd_m2 == pytest.approx(1000 * 0.72**0.5 / math.pi)
    assert found.match_illuminance_lx == pytest.approx(120 * math.pi / 0.72**0.5)
    assert found.screen_cd_m2 == pytest.approx(120.0)


def test_the_marks_on_the_scale_are_the_illuminances_of_iso_3664() -> None:
    """ISO 3664:2009: 2000 lx to compare critically (P1), 500 lx to appraise (P2); from memory."""
    assert (CRITICAL_LX, PRACTICAL_LX) == (2000.0, 500.0)
