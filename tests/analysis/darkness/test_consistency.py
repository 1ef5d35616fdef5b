"""Which papers come out the same every time."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.consistency import consistency, paper_spreads, steadiest
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.terms import Value, read_terms
from tests.analysis.darkness.hand import NOWHERE, log
from tests.analysis.darkness.test_terms import texts


def _model(scatter: dict[str, float], prints: int, seed: int, effect: float = 0.0) -> Model:
    """Papers with a scatter of their own (logistic scales); a setting of so much effect that only the first one sees."""
    rng = np.random.default_rng(seed)
    names = list(scatter)
    paper = rng.choice(names, prints)
    off = (rng.random(prints) < 0.5) & (paper == names[0])
    settings: list[dict[str, Value]] = [{"bpc": not one} for one in off]
    stops = effect * off + np.array([scatter[one] for one in paper]) * rng.logistic(size=prints)
    nothing = texts(*[None] * prints)
    found = log(np.clip(np.rint(3 * stops), -6, 6).astype(np.int64), texts(*paper), nothing, nothing, settings)
    return fit_model(found, read_terms(settings, found.paper, nothing, nothing), NOWHERE)


def test_a_paper_s_spread_is_what_its_settings_do_not_explain() -> None:
    found = paper_spreads(_model({"rag": 0.12, "satin": 0.12}, 800, 1, effect=-0.8))
    assert [one.value for one in found.values()] == pytest.approx([0.12 * np.pi / 3**0.5] * 2, rel=0.12)


def test_spreads_cover_and_no_paper_is_called_the_steadiest_where_they_are_alike() -> None:
    held, named = [], 0
    for seed in range(60):
        model = _model({"rag": 0.12, "satin": 0.12, "card": 0.12}, 90, seed)
        held += [not one.excludes(0.12 * np.pi / 3**0.5) for one in paper_spreads(model).values()]
        nothing = texts(*[None] * 90)
        named += steadiest(consistency(model, model.judged.paper, nothing, nothing)) is not None
    assert 0.84 <= np.mean(held) <= 0.98
    assert named <= 3


def test_a_paper_that_is_much_steadier_is_called_so() -> None:
    model = _model({"rag": 0.06, "satin": 0.3}, 400, 3)
    nothing = texts(*[None] * 400)
    assert steadiest(consistency(model, model.judged.paper, nothing, nothing)) == "rag"


def test_only_first_attempts_with_a_verdict_count() -> None:
    paper = texts(*["rag"] * 5)
    [found] = consistency(None, paper, texts("keep", "redo", None, "keep", "keep"), texts(None, None, None, "p1", "p2"))
    assert (found.first_attempts, found.kept_first.value, found.spread_stops) == (2, 0.5, None)
