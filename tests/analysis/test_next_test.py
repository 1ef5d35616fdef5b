"""The one print that would tell most."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness import Judged, analyse
from logbook.analysis.darkness_model import Model, fit_model
from logbook.analysis.light import Surroundings
from logbook.analysis.next_test import next_test
from logbook.analysis.prediction import UnknownLevelError, changed, information, row_of, usual
from logbook.analysis.terms import Value, read_terms
from tests.analysis.test_terms import texts

NOWHERE = Surroundings({}, {}, {})


def _log(prints: int, rare: int, seed: int = 1) -> Judged:
    """Most prints with the usual intent, a few with another; both settings vary alone."""
    rng = np.random.default_rng(seed)
    settings: list[dict[str, Value]] = [
        {"intent": "relative" if n < rare else "perceptual", "bidirectional": bool(rng.random() < 0.5), "shadow_lift": int(n % 7)}
        for n in range(prints)
    ]
    rating = np.rint(3 * (-0.2 + 0.3 * rng.logistic(size=prints))).astype(np.int64)
    nothing = texts(*[None] * prints)
    return Judged(np.clip(rating, -6, 6), texts(*["rag"] * prints), nothing, nothing, settings)


def _model(log: Judged) -> Model:
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), NOWHERE)


def test_the_setting_known_least_is_tested() -> None:
    log = _log(80, rare=3)
    found = analyse(log, NOWHERE).next_test
    assert found is not None
    assert found.change == {"intent": "relative"}
    assert found.against["intent"] == "perceptual"
    assert found.separates == ("intent",)
    assert found.interval_then.width < found.interval_now.width
    assert found.interval_then.value == found.interval_now.value


def test_the_promise_is_kept_by_the_print() -> None:
    """Adding the print and fitting again narrows the interval about as much as was promised."""
    log = _log(80, rare=2)
    found = analyse(log, NOWHERE).next_test
    assert found is not None and found.change == {"intent": "relative"}
    ratios = []
    for rating in (-2, -1, 0, 1):
        nothing = texts(*[None] * 81)
        added = {**{name: value for name, value in found.against.items() if name != "paper"}, **found.change}
        more = Judged(np.append(log.rating, rating), texts(*["rag"] * 81), nothing, nothing, [*log.settings, added])
        then = next(one for one in analyse(more, NOWHERE).levels if one.level == "relative")
        ratios.append(then.effect_stops.width / found.interval_then.width)
    assert 0.75 < float(np.mean(ratios)) < 1.3


def test_where_all_is_clear_or_small_nothing_is_asked_for() -> None:
    rng = np.random.default_rng(5)
    off = rng.random(3000) < 0.5
    settings: list[dict[str, Value]] = [{"bpc": not one, "helper": bool(rng.random() < 0.5)} for one in off]
    rating = np.clip(np.rint(3 * (np.where(off, -0.5, 0.0) + 0.1 * rng.logistic(size=3000))), -6, 6).astype(np.int64)
    nothing = texts(*[None] * 3000)
    assert analyse(Judged(rating, texts(*["rag"] * 3000), nothing, nothing, settings), NOWHERE).next_test is None


def test_an_unknown_level_is_refused_by_name() -> None:
    model = _model(_log(60, rare=20))
    setup = usual(model)
    with pytest.raises(UnknownLevelError, match="intent"):
        changed(model, setup, "intent", "absolute")
    with pytest.raises(UnknownLevelError, match="bidirectional"):
        changed(model, setup, "bidirectional", 1)
    with pytest.raises(UnknownLevelError, match="platen_gap"):
        changed(model, setup, "platen_gap", "wide")
    with pytest.raises(UnknownLevelError, match="far from"):
        changed(model, setup, "shadow_lift", 64)


def test_a_rating_near_the_middle_tells_more_than_one_far_beyond_the_scale() -> None:
    model = _model(_log(60, rare=20))
    row = row_of(model, usual(model))
    far = row.copy()
    far[0] = 40.0
    assert information(model, row) > 1.0
    assert information(model, far) < 1e-3


def test_no_targets_no_test() -> None:
    rng = np.random.default_rng(7)
    rating = np.rint(3 * 0.2 * rng.logistic(size=40)).astype(np.int64)
    nothing = texts(*[None] * 40)
    log = Judged(rating, texts(*["rag"] * 40), nothing, nothing, [{} for _ in range(40)])
    assert next_test(_model(log), []) is None
