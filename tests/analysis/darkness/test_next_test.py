"""The one print that would tell most."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.answer import analyse
from logbook.analysis.darkness.entanglement import entangled
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import FloatArray, Model
from logbook.analysis.darkness.next_test import NextTest, next_test
from logbook.analysis.darkness.prediction import UnknownLevelError, changed, information, row_of, usual
from logbook.analysis.darkness.terms import Value, read_terms
from tests.analysis.darkness.hand import log as judged_log
from tests.analysis.darkness.test_terms import texts

NOWHERE = Surroundings({}, {}, {})


def _log(prints: int, rare: int, seed: int = 1) -> Judged:
    """Most prints with the usual intent, a few with another; both settings vary alone."""
    rng = np.random.default_rng(seed)
    settings: list[dict[str, Value]] = [
        {
            "intent": "relative" if n % (prints // rare) == 1 else "perceptual",
            "bidirectional": bool(rng.random() < 0.5),
            "shadow_lift": int(n % 7),
        }
        for n in range(prints)
    ]
    rating = np.rint(3 * (-0.2 + 0.3 * rng.logistic(size=prints))).astype(np.int64)
    nothing = texts(*[None] * prints)
    return judged_log(np.clip(rating, -6, 6), texts(*["rag"] * prints), nothing, nothing, settings)


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
        more = judged_log(np.append(log.rating, rating), texts(*["rag"] * 81), nothing, nothing, [*log.settings, added])
        then = next(one for one in analyse(more, NOWHERE).levels if one.level == "relative")
        ratios.append(then.effect_stops.width / found.interval_then.width)
    assert 0.75 < float(np.mean(ratios)) < 1.3


def test_where_all_is_clear_or_small_nothing_is_asked_for() -> None:
    rng = np.random.default_rng(5)
    off = rng.random(3000) < 0.5
    settings: list[dict[str, Value]] = [{"bpc": not one, "helper": bool(rng.random() < 0.5)} for one in off]
    rating = np.clip(np.rint(3 * (np.where(off, -0.5, 0.0) + 0.1 * rng.logistic(size=3000))), -6, 6).astype(np.int64)
    nothing = texts(*[None] * 3000)
    assert analyse(judged_log(rating, texts(*["rag"] * 3000), nothing, nothing, settings), NOWHERE).next_test is None


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
    log = judged_log(rating, texts(*["rag"] * 40), nothing, nothing, [{} for _ in range(40)])
    assert next_test(_model(log), []) is None


# Worked out again


def _entangled(paper_too: bool = False) -> Model:
    """Ninety prints: intent and switch always changed together, or the paper and the intent; a number varies alone."""
    rng = np.random.default_rng(41)
    other = rng.random(90) < 0.4
    settings: list[dict[str, Value]] = [
        {"intent": "b" if one else "a", "gain": float(n % 6), **({} if paper_too else {"bpc": not bool(one)})}
        for n, one in enumerate(other)
    ]
    if paper_too:
        settings[0]["intent"] = "b" if settings[0]["intent"] == "a" else "a"
    paper = texts(*("card" if paper_too and one else "rag" for one in other))
    rating = np.clip(np.rint(3 * (-0.2 + 0.3 * rng.logistic(size=90))), -6, 6).astype(np.int64)
    nothing = texts(*[None] * 90)
    return _model(judged_log(rating, paper, nothing, nothing, settings))


def _variance_after(model: Model, target: FloatArray, row: FloatArray, prints: int) -> float:
    """Variance of the target after so many more ratings at ``row``: their information added to the precision matrix."""
    precision = np.linalg.inv(model.fit.covariance) + prints * information(model, row) * np.outer(row, row)
    return float(target @ np.linalg.inv(precision) @ target)


def _asked(model: Model, found: NextTest, target: FloatArray) -> FloatArray:
    [(name, value)] = found.change.items()
    row = row_of(model, changed(model, usual(model), name, value))
    value_now, sd_now = model.linear(target)
    assert found.interval_now.value == pytest.approx(value_now)
    assert found.interval_now.high - value_now == pytest.approx(1.6448536 * sd_now)
    assert found.interval_then.high - value_now == pytest.approx(1.6448536 * _variance_after(model, target, row, 1) ** 0.5)
    return row


def test_the_interval_then_is_that_with_the_print_added_to_what_is_known() -> None:
    model = _model(_log(80, rare=3))
    found = next_test(model, [])
    assert found is not None and found.prints_to_halve is not None
    target = model.effect_row(0, next(n for n, one in enumerate(model.terms.factors[0].levels) if one == "relative"))
    row = _asked(model, found, target)
    goal, prints = model.linear(target)[1] ** 2 / 4, found.prints_to_halve
    before = prints - 1 if prints <= 20 else prints - 10  # told in tens from 20 on
    assert _variance_after(model, target, row, prints) <= goal < _variance_after(model, target, row, before)


def test_of_all_single_changes_the_one_that_narrows_most_is_asked_for() -> None:
    model = _entangled()
    pairs = entangled(model.terms)
    found = next_test(model, pairs)
    assert found is not None and found.separates == ("intent", "bpc")
    number, level = max(
        (
            (n, code)
            for n, one in enumerate(model.terms.factors)
            for code in range(len(one.levels))
            if one.name in found.separates
        ),
        key=lambda one: model.linear(model.effect_row(*one))[1],
    )
    target = model.effect_row(number, level)
    _asked(model, found, target)
    base = usual(model)
    changes: list[tuple[str, Value]] = [(name, one) for name, one in base.values(model).items() if name in ("intent", "bpc")]
    other: list[tuple[str, Value]] = [
        (name, ("b" if one == "a" else "a") if name == "intent" else not one) for name, one in changes
    ]
    tried = [*other, ("gain", 0.0), ("gain", 5.0)]
    after = {one: _variance_after(model, target, row_of(model, changed(model, base, *one)), 1) for one in tried}
    assert next(iter(found.change.items())) == min(after, key=lambda one: after[one])


def test_another_paper_is_asked_for_only_where_it_is_entangled() -> None:
    model = _entangled(paper_too=True)
    pairs = entangled(model.terms)
    assert [(pair.a, pair.b) for pair in pairs] == [("paper", "intent")]
    apart, together = next_test(model, []), next_test(model, pairs)
    assert apart is not None and "paper" not in apart.change
    assert apart.separates != ("paper",)
    assert together is not None and together.separates == ("paper", "intent")
    assert together.change == {"paper": "card"}


def test_what_an_inspection_found_is_neither_asked_for_nor_a_target() -> None:
    rng = np.random.default_rng(43)
    settings: list[dict[str, Value]] = [{"mean_l": float(n % 9), "bpc": bool(rng.random() < 0.5)} for n in range(18)]
    rating = np.rint(3 * 0.3 * rng.logistic(size=18)).astype(np.int64)
    nothing = texts(*[None] * 18)
    model = _model(judged_log(np.clip(rating, -6, 6), texts(*["rag"] * 18), nothing, nothing, settings))
    found = next_test(model, [])
    assert found is not None
    assert found.separates == ("bpc",)
    assert "mean_l" not in found.change and "mean_l" not in found.against


def test_a_slope_is_as_little_known_as_its_whole_reach_makes_it() -> None:
    """Over the six units tried its effect is known less well than that of the rare level, if not half as well."""
    rng = np.random.default_rng(44)
    settings: list[dict[str, Value]] = [{"gain": float(n % 7), "bpc": n % 6 == 0} for n in range(60)]
    rating = np.clip(np.rint(3 * 0.5 * rng.logistic(size=60)), -6, 6).astype(np.int64)
    nothing = texts(*[None] * 60)
    model = _model(judged_log(rating, texts(*["rag"] * 60), nothing, nothing, settings))
    rare = max(model.linear(model.effect_row(0, level))[1] for level in (0, 1))
    assert rare < 6 * model.linear(model.slope_row(0))[1] < 2 * rare
    found = next_test(model, [])
    assert found is not None and found.separates == ("gain",)


def test_papers_that_differ_keep_no_other_change_from_being_asked_for() -> None:
    log = _log(80, rare=3)
    mixed = judged_log(log.rating, texts(*["rag", "card", "card", "rag"] * 20), log.screen, log.light, log.settings)
    found = next_test(_model(mixed), [])
    assert found is not None
    assert (found.change, found.separates) == ({"intent": "relative"}, ("intent",))


def test_papers_alone_are_no_target() -> None:
    rating = np.rint(3 * 0.3 * np.random.default_rng(45).logistic(size=20)).astype(np.int64)
    nothing = texts(*[None] * 20)
    log = judged_log(np.clip(rating, -6, 6), texts(*["rag", "card"] * 10), nothing, nothing, [{} for _ in range(20)])
    assert next_test(_model(log), []) is None
