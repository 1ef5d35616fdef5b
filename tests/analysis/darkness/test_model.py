"""The fitted model: its chances and effects worked out again print by print."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.darkness.chance import chance_darker, chance_of
from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.judged import Again
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import FloatArray, Model
from logbook.analysis.darkness.terms import read_terms
from tests.analysis.darkness.hand import log as judged_log
from tests.analysis.darkness.test_prediction import PLACE, _log
from tests.analysis.darkness.test_terms import texts


@pytest.fixture(scope="module")
def model() -> Model:
    log = _log()
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), PLACE)


def _rows(model: Model) -> FloatArray:
    """The whole matrix, the many levels too."""
    return np.column_stack([model.design.predict(one) for one in np.eye(model.design.width)])


def _chance(model: Model, theta: FloatArray, s: float, name: str, level: int) -> float:
    """Mean chance of a rating of -1 or less over the log's settings with one factor put to a level, row by row."""
    number = next(n for n, one in enumerate(model.terms.factors) if one.name == name and one.levels)
    factor, chances = model.terms.factors[number], []
    for row, rest in enumerate(model.few.dense()):
        at = {"light": model.judged.light[row], "screen": "desk", "paper": model.judged.paper[row]}
        at |= {name: factor.levels[level]} if name in at else {}
        settings = [level if n == number else int(one.codes[row]) for n, one in enumerate(model.terms.factors)]
        wanted = np.zeros(model.few.width)
        free = 1 + len(model.terms.slopes) + (model.light_column is not None)
        wanted[:free] = rest[:free]
        wanted[model.steps] = rest[model.steps]
        for n, slope in enumerate(model.terms.slopes):
            on = {"paper": at["paper"], "black": "matte"}
            wanted[free:] += (slope.scaled[row] * slope.sd * model.slope_row(n, on))[free:]
        for n, code in enumerate(settings):
            wanted += model.level_row_on(n, code, {"paper": at["paper"], "black": "matte"})
        if model.light_column is not None:
            offset = PLACE.offset(at["light"], at["screen"], at["paper"])
            wanted[model.light_column] = model.usual_offset if np.isnan(offset) else offset
        chances.append(float(wanted @ theta[: model.few.width]))
    scale = np.sqrt(np.exp(2 * s) + 3 * model.unshared_variance / np.pi**2)
    return float(np.mean(1 / (1 + np.exp((np.array(chances) + 0.5 / 3) / scale))))


@pytest.mark.parametrize(("name", "level"), [("intent", 0), ("intent", 1), ("bpc", 1), ("paper", 0), ("paper", 1), ("light", 1)])
def test_the_chance_of_a_dark_print_is_the_mean_over_the_log_s_settings(model: Model, name: str, level: int) -> None:
    number = next(n for n, one in enumerate(model.terms.factors) if one.name == name and one.levels)
    found = chance_darker(model, number, level)
    assert found.value == pytest.approx(_chance(model, model.fit.theta, model.fit.s, name, level))
    assert 0 < found.low < found.value < found.high < 1


def test_the_chance_of_one_print_is_that_of_its_row(model: Model) -> None:
    row = model.few.dense()[5]
    eta = float(row @ model.fit.theta[: model.few.width])
    assert chance_of(model, row, 0.0).value == pytest.approx(1 / (1 + np.exp((eta + 0.5 / 3) / model.fit.scale)))


def test_an_average_counts_every_print_once(model: Model) -> None:
    assert model.average().value == pytest.approx(float((_rows(model) @ model.fit.theta).mean()))
    first = np.arange(60) < 20
    assert model.average(first).value == pytest.approx(float((_rows(model) @ model.fit.theta)[:20].mean()))
    assert model.average(first).width > model.average().width


def test_a_variance_is_that_of_the_whole_posterior(model: Model) -> None:
    """Few columns alone, and with a picture's or a day's: the same by the whole inverse."""
    rows = np.eye(model.design.width)[:: model.design.width // 7]
    precision = model.fit.normal.solve(np.eye(model.design.width))
    few = model.few.width
    whole = precision + precision[:, :few] @ model.fit.doubt @ precision[:few]
    assert model.fit.variances(rows) == pytest.approx(np.einsum("ij,jk,ik->i", rows, whole, rows))
    assert model.fit.covariance == pytest.approx(whole[:few, :few])


def test_effects_are_told_against_the_average_of_the_levels_and_a_slope_by_its_unit(model: Model) -> None:
    number = next(n for n, one in enumerate(model.terms.factors) if one.name == "intent")
    levels = [model.linear(model.level_row(number, level))[0] for level in (0, 1)]
    assert model.linear(model.effect_row(number, 1))[0] == pytest.approx(levels[1] - (40 * levels[0] + 20 * levels[1]) / 60)
    lift = next(n for n, one in enumerate(model.terms.slopes) if one.name == "lift")
    value, sd = model.linear(model.slope_row(lift))
    papers = next(one for one in model.depends if one.slope == lift and one.by == "paper")
    own = [model.linear(model.slope_row(lift, {"paper": paper}))[0] for paper in papers.on]
    shares = [float(np.mean(model.judged.paper == paper)) for paper in papers.on]
    assert value == pytest.approx(np.dot(own, shares))
    assert sd > 0


def test_without_a_known_light_there_is_no_column_for_it() -> None:
    log = _log()
    found = fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), Surroundings({}, {}, {}))
    assert found.light_column is None
    assert found.usual_offset == 0.0
    assert found.few.covariates.shape[1] == 1 + len(found.terms.slopes)


def test_where_all_prints_hang_in_one_light_its_slope_is_what_was_believed() -> None:
    """A stop lighter a stop, give or take half of one: its offset and the average, within 2 stops of 0, share the data."""
    log = _log()
    one = judged_log(log.rating, log.paper, log.screen, np.array(["wall"] * 60, dtype=object), log.settings)
    alike = Surroundings({"wall": 500.0}, {"desk": 120.0}, {})
    found = fit_model(one, read_terms(one.settings, one.paper, one.screen, one.light), alike)
    assert found.light_column is not None
    assert found.fit.theta[found.light_column] == pytest.approx(1.0, abs=0.05)
    assert found.fit.covariance[found.light_column, found.light_column] ** 0.5 == pytest.approx(0.5, abs=0.02)


def test_pictures_and_days_and_months_are_told_apart_from_one_another() -> None:
    rng = np.random.default_rng(72)
    picture, day = np.repeat(np.arange(200), 3), np.arange(600) // 8
    month_of_day = np.datetime64("2025-01-01") + 5 * day
    drift = np.cumsum(0.08 * rng.normal(size=14))[month_of_day.astype("datetime64[M]").astype(int) - 660]
    stops = 0.35 * rng.normal(size=200)[picture] + 0.15 * rng.normal(size=75)[day] + drift + 0.12 * rng.logistic(size=600)
    nothing = texts(*[None] * 600)
    rating = np.clip(np.rint(3 * stops), -6, 6).astype(np.int64)
    names = texts(*(f"picture {one}" for one in picture))
    log = judged_log(rating, texts(*["rag"] * 600), nothing, nothing, [{} for _ in range(600)], names, month_of_day)
    found = fit_model(log, read_terms(log.settings, log.paper, nothing, nothing), Surroundings({}, {}, {})).spreads
    assert found["picture"] == pytest.approx(0.35, abs=0.06)
    assert found["day"] == pytest.approx(0.15, abs=0.06)
    assert found["month"] == pytest.approx(0.08, abs=0.08)
    assert found["print"] == pytest.approx(0.12 * np.pi / 3**0.5, abs=0.03)


def _drifting(eye: float, printer: float, looks: int) -> tuple[Model, int]:
    """A year of prints whose eye or printer drifts, and one kept print looked at again so many times."""
    rng = np.random.default_rng(73)
    day = np.datetime64("2025-01-06") + np.sort(rng.integers(0, 360, 400))
    share = (day - day[0]).astype(float) / 360
    stops = (eye + printer) * share + 0.12 * rng.logistic(size=400)
    nothing, rag = texts(*[None] * 400), texts(*["rag"] * 400)
    log = judged_log(np.rint(3 * stops).astype(np.int64), rag, nothing, nothing, [{} for _ in range(400)], None, day)
    if looks:
        when = day[0] + np.linspace(20, 359, looks).astype(int)
        own = eye * (when - day[0]).astype(float) / 360 + 0.05 * rng.normal(size=looks)
        again = Again(np.zeros(looks, dtype=np.int64), np.rint(3 * own).astype(np.int64), texts(*[None] * looks), when, day)
        log = replace(log, again=again)
    model = fit_model(log, read_terms(log.settings, log.paper, nothing, nothing), Surroundings({}, {}, {}))
    return model, len(model.few.levels)


def _walked(model: Model, factor: int) -> float:
    """How far a walk went, in stops."""
    return float(model.fit.theta[model.block(factor)][1:].sum())


@pytest.mark.parametrize(("eye", "printer"), [(0.8, 0.0), (0.0, 0.8)])
def test_a_kept_print_judged_again_tells_the_eye_s_drift_from_the_printer_s(eye: float, printer: float) -> None:
    model, factors = _drifting(eye, printer, looks=24)
    assert _walked(model, factors - 2) == pytest.approx(printer, abs=0.3)
    assert _walked(model, factors - 1) == pytest.approx(eye, abs=0.3)
    assert len(model.expected) == 400
    alone, walks = _drifting(eye, printer, looks=0)
    assert _walked(alone, walks - 1) == pytest.approx(0.8, abs=0.2)
