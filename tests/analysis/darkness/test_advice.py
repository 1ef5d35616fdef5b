"""Advice for a next print."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.advice import Advice, advise
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.prediction import UnknownLevelError
from logbook.analysis.darkness.terms import Value, read_terms
from tests.analysis.darkness.hand import log as judged_log
from tests.analysis.darkness.test_terms import texts


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
    log = judged_log(np.clip(np.rint(3 * stops), -6, 6).astype(np.int64), paper, nothing, nothing, settings)
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), Surroundings({}, {}, {}))


def _needed(found: Advice, effect: float = 1.0, sd: float = 0.5) -> float:
    """The change of brightening that leaves the least of the difference squared; by default what is believed untried."""
    return -found.expected_stops.value * effect / (effect**2 + sd**2)


def _suggested(found: Advice) -> float:
    assert found.brighten_stops is not None
    return found.brighten_stops.value


def test_a_dark_print_is_brightened_by_what_it_lacks() -> None:
    found = advise(_model([]), "rag", {})
    assert found.expected_stops.value == pytest.approx(-0.4, abs=0.08)
    assert _suggested(found) == pytest.approx(_needed(found))
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
    found = advise(_model([0.0, 0.05, 0.1], average=-1.7), "rag", {"brighten_stops": 0.0})
    assert found.limited
    assert _suggested(found) <= 0.1 + 1.0 + 1e-9


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


def _judged(stops: list[float], settings: list[dict[str, Value]], paper: list[str] | None = None) -> Model:
    nothing, count = texts(*[None] * len(stops)), len(stops)
    rating = np.clip(np.rint(3 * np.array(stops)), -6, 6).astype(np.int64)
    log = judged_log(rating, texts(*(paper or ["rag"] * count)), texts(*["desk"] * count), nothing, settings)
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), Surroundings({}, {}, {}))


def _scattered(count: int, seed: int = 61, scatter: float = 0.15) -> list[float]:
    return list(-0.5 + scatter * np.random.default_rng(seed).logistic(size=count))


def test_what_the_paper_carries_and_what_never_varied_needs_no_change() -> None:
    settings: list[dict[str, Value]] = [
        {"media": "m1" if n < 15 else "m2", "scale_percent": 100, "file": f"f{n}", "bpc": bool(n % 2)} for n in range(30)
    ]
    paper = ["rag"] * 15 + ["card"] * 15
    model = _judged(_scattered(30), settings, paper)
    plain = advise(model, "rag", {})
    carried: dict[str, Value] = {"paper": "rag", "media": "m1", "scale_percent": 100, "screen": "desk"}
    assert advise(model, "rag", carried).expected_stops == plain.expected_stops
    alone = _judged(_scattered(30), settings)
    assert advise(alone, "rag", {"paper": "rag"}).expected_stops == advise(alone, "rag", {}).expected_stops
    for unknown in ({"screen": "other"}, {"light": "wall"}):
        with pytest.raises(UnknownLevelError):
            advise(model, "rag", unknown)


def test_values_that_were_set_aside_are_passed_over() -> None:
    settings: list[dict[str, Value]] = [{"file": f"scan {n}", "bpc": bool(n % 2)} for n in range(80)]
    model = _judged(_scattered(80), settings)
    assert model.terms.set_aside == ("file",)
    assert advise(model, "rag", {"file": "new"}).expected_stops == advise(model, "rag", {}).expected_stops


def test_a_suggestion_for_brightening_never_tried_is_as_unsure_as_the_word_and_the_expectation() -> None:
    """A stop lighter a stop, give or take half of one: both standard deviations add up in squares."""
    found = advise(_judged(_scattered(60), [{} for _ in range(60)]), "rag", {})
    assert found.brighten_stops is not None
    sd = (found.expected_stops.high - found.expected_stops.value) / 1.6448536
    needed = _needed(found)
    assert found.brighten_stops.value == pytest.approx(needed)
    assert found.brighten_stops.high - needed == pytest.approx(1.6448536 * np.hypot(sd, 0.5 * needed))
    assert (found.limited, found.tried, found.why) == (False, None, None)


def test_where_brightening_was_never_tried_a_stop_is_the_most() -> None:
    found = advise(_judged([one - 1.0 for one in _scattered(60)], [{} for _ in range(60)]), "rag", {})
    assert (_suggested(found), found.limited) == (1.0, True)


def test_the_log_and_the_word_are_weighed_by_what_they_are_known_to() -> None:
    model = _model([0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6])
    found = advise(model, "rag", {"brighten_stops": 0.2})
    number = next(n for n, one in enumerate(model.terms.slopes) if one.name == "brighten_stops")
    slope, sd = model.linear(model.slope_row(number))
    weight = 1 / sd**2 + 1 / 0.5**2
    effect = (slope / sd**2 + 1.0 / 0.5**2) / weight
    assert _suggested(found) == pytest.approx(0.2 + _needed(found, effect, weight**-0.5))


def test_brightening_in_few_steps_is_told_from_its_lowest_to_its_highest() -> None:
    model = _model([0.0, 0.4], average=-0.2)
    found = advise(model, "rag", {"brighten_stops": 0.0})
    assert found.tried == (0.0, 0.4)
    assert _suggested(found) == pytest.approx(0.2 / 0.8, abs=0.15)


def test_the_limit_lies_a_stop_beyond_what_was_tried() -> None:
    dark = advise(_model([0.0, 0.05, 0.1], average=-1.7), "rag", {"brighten_stops": 0.0})
    assert _suggested(dark) == pytest.approx(1.1)
    light = advise(_model([0.2, 0.25, 0.3], average=1.5), "rag", {"brighten_stops": 0.3})
    assert _suggested(light) == pytest.approx(-0.8)
    assert light.limited


def test_brightening_noted_in_words_counts_as_none() -> None:
    settings: list[dict[str, Value]] = [{"brighten_stops": "some" if n % 2 else "none"} for n in range(60)]
    found = advise(_judged(_scattered(60), settings), "rag", {"brighten_stops": "some"})
    assert _suggested(found) == pytest.approx(_needed(found))


def test_three_prints_on_a_paper_support_a_suggestion() -> None:
    paper = ["rag"] * 57 + ["card"] * 3
    found = advise(_judged(_scattered(60), [{} for _ in range(60)], paper), "card", {})
    assert (found.prints_on_paper, found.why) == (3, None)
    two = advise(_judged(_scattered(60), [{} for _ in range(60)], ["rag"] * 58 + ["card"] * 2), "card", {})
    assert two.why == "fewer than 3 prints on this paper are judged"
    assert (two.brighten_stops, two.limited) == (None, False)


def test_an_expectation_known_to_no_better_than_a_stop_supports_none() -> None:
    found = advise(_judged(_scattered(12, scatter=0.9), [{} for _ in range(12)]), "rag", {})
    assert found.expected_stops.width > 1.0
    assert found.brighten_stops is None
    assert found.why == "the expectation is known to no better than a stop"


def test_a_suggestion_from_the_log_is_as_unsure_as_the_expectation_and_the_effect() -> None:
    model = _model([0.0, 0.1, 0.2, 0.3, 0.4, 0.5, 0.6])
    found = advise(model, "rag", {"brighten_stops": 0.2})
    number = next(n for n, one in enumerate(model.terms.slopes) if one.name == "brighten_stops")
    slope, sd = model.linear(model.slope_row(number))
    weight = 1 / sd**2 + 1 / 0.5**2
    effect, effect_sd = (slope / sd**2 + 1.0 / 0.5**2) / weight, weight**-0.5
    expected_sd = (found.expected_stops.high - found.expected_stops.value) / 1.6448536
    assert found.brighten_stops is not None
    needed = _needed(found, effect, effect_sd)
    half = found.brighten_stops.high - found.brighten_stops.value
    assert half == pytest.approx(1.6448536 * np.hypot(expected_sd, needed * effect_sd) / effect)


def test_what_a_picture_showed_is_used_for_its_next_print_and_for_no_other() -> None:
    rng = np.random.default_rng(71)
    own = 0.4 * rng.normal(size=40)
    picture = np.repeat(np.arange(40), 3)
    stops = -0.2 + own[picture] + 0.1 * rng.logistic(size=120)
    names = texts(*(f"picture {one}" for one in picture))
    nothing, rating = texts(*[None] * 120), np.clip(np.rint(3 * stops), -6, 6).astype(np.int64)
    log = judged_log(rating, texts(*["rag"] * 120), nothing, nothing, [{} for _ in range(120)], names)
    model = fit_model(log, read_terms(log.settings, log.paper, nothing, nothing), Surroundings({}, {}, {}))
    new = advise(model, "rag", {})
    again = [advise(model, "rag", {}, f"picture {one}") for one in range(40)]
    off = np.array([one.expected_stops.value for one in again]) - (-0.2 + own)
    assert np.abs(off).mean() < 0.12
    assert np.mean([abs(new.expected_stops.value + 0.2 - one) for one in own]) > 0.2
    assert all(one.print_stops.width < new.print_stops.width for one in again)
    assert new.picture_stops is None and again[0].picture_stops is not None
    assert advise(model, "rag", {}, "a picture never printed") == new
