"""Advice for a next print."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.advice import Advice, advise
from logbook.analysis.darkness import Judged
from logbook.analysis.darkness_model import Model, fit_model
from logbook.analysis.light import Surroundings
from logbook.analysis.prediction import UnknownLevelError
from logbook.analysis.terms import Value, read_terms
from tests.analysis.test_terms import texts


def _model(brighten: list[float], true_slope: float = 0.8, prints: int = 240, average: float = -0.4) -> Model:
    rng = np.random.default_rng(2)
    off = rng.random(prints) < 0.3
    given = rng.choice(brighten, prints) if brighten else np.zeros(prints)
    stops = average + np.where(off, -0.3, 0.0) + true_slope * given + 0.12 * rng.logistic(size=prints)
    settings: list[dict[str, Value]] = [
        {"black_point_compensation": not one, **({"brighten_stops": float(value)} if brighten else {})}
        for one, value in zip(off, given, strict=True)
    ]
    paper = texts(*["rag"] * (prints - 2), "card", "card")
    nothing = texts(*[None] * prints)
    log = Judged(np.clip(np.rint(3 * stops), -6, 6).astype(np.int64), paper, nothing, nothing, settings)
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), Surroundings({}, {}, {}))


def _suggested(found: Advice) -> float:
    assert found.brighten_stops is not None
    return found.brighten_stops.value


def test_a_dark_print_is_brightened_by_what_it_lacks() -> None:
    found = advise(_model([]), "rag", {})
    assert found.expected_stops.value == pytest.approx(-0.4, abs=0.08)
    assert _suggested(found) == pytest.approx(-found.expected_stops.value)
    assert found.chance_darker.value > 0.8


def test_what_was_set_changes_the_expectation() -> None:
    model = _model([])
    off = advise(model, "rag", {"black_point_compensation": False})
    assert off.expected_stops.value < advise(model, "rag", {}).expected_stops.value - 0.2


def test_it_says_what_it_assumes() -> None:
    assert advise(_model([]), "rag", {"black_point_compensation": False}).assumes == {
        "paper": "rag",
        "black_point_compensation": False,
    }


def test_the_logs_own_brightening_is_used() -> None:
    found = advise(_model([0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6]), "rag", {"brighten_stops": 0.0})
    assert _suggested(found) == pytest.approx(0.5, abs=0.08)  # 0.4 stops too dark, 0.8 stops lighter a stop
    assert not found.limited
    assert found.tried == (0.0, 0.6)


def test_the_suggestion_is_the_setting_itself_not_a_step() -> None:
    model = _model([0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6])
    from_nothing = advise(model, "rag", {"brighten_stops": 0.0})
    from_some = advise(model, "rag", {"brighten_stops": 0.3})
    assert _suggested(from_some) == pytest.approx(_suggested(from_nothing), abs=0.02)


def test_nothing_is_suggested_far_beyond_what_was_tried() -> None:
    found = advise(_model([0.0, 0.05, 0.1], average=-1.2), "rag", {"brighten_stops": 0.0})
    assert found.limited
    assert _suggested(found) <= 0.1 + 1 / 3 + 1e-9


def test_brightening_that_never_helped_is_not_suggested() -> None:
    found = advise(_model([0.0, 0.2, 0.4, 0.6, 0.8, 1.0], true_slope=0.0), "rag", {})
    assert found.brighten_stops is None
    assert found.why is not None and "no print lighter" in found.why


def test_two_prints_on_a_paper_support_no_suggestion() -> None:
    found = advise(_model([]), "card", {})
    assert found.brighten_stops is None
    assert found.expected_stops.width > advise(_model([]), "rag", {}).expected_stops.width


def test_a_paper_never_judged_has_no_advice() -> None:
    with pytest.raises(UnknownLevelError, match="no print on this paper"):
        advise(_model([]), "vellum", {})
