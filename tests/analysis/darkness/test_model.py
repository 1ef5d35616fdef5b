"""The fitted model: its chances and effects worked out again print by print."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.answer import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import FloatArray, Model, fit_model, rating_bounds
from logbook.analysis.darkness.terms import read_terms
from logbook.analysis.numeric.interval import Interval
from tests.analysis.darkness.test_prediction import PLACE, _log


@pytest.fixture(scope="module")
def model() -> Model:
    log = _log()
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), PLACE)


def _chance(model: Model, theta: FloatArray, s: float, name: str, level: int) -> float:
    """Mean chance of a rating of -1 or less over the log's prints with one factor put to a level, row by row."""
    number = next(n for n, one in enumerate(model.terms.factors) if one.name == name and one.levels)
    factor, block = model.terms.factors[number], model.design.block(number)
    rows = model.design.dense()
    rows[:, block] = 0.0
    rows[:, block.start + level] = 1.0
    if name in ("light", "screen", "paper") and model.light_column is not None:
        for row, light, screen, paper in zip(rows, model.light, model.screen, model.paper, strict=True):
            there = {"light": light, "screen": screen, "paper": paper} | {name: factor.levels[level]}
            offset = PLACE.offset(there["light"], there["screen"], there["paper"])
            row[model.light_column] = model.usual_offset if np.isnan(offset) else offset
    chance = 1 / (1 + np.exp((rows @ theta + 0.5 / 3) / np.exp(s)))
    return float(chance @ model.count / model.count.sum())


def _checked(model: Model, found: Interval, name: str, level: int) -> None:
    """Value and ends against a delta method whose derivatives are differences."""
    theta, s, step = model.fit.theta, model.fit.s, 1e-5
    value = _chance(model, theta, s, name, level)
    gradient = []
    for n in range(len(theta) + 1):
        ends = []
        for sign in (1, -1):
            moved = theta.copy()
            if n < len(theta):
                moved[n] += sign * step
            ends.append(_chance(model, moved, s + (sign * step if n == len(theta) else 0.0), name, level))
        gradient.append((ends[0] - ends[1]) / (2 * step))
    slope = np.array(gradient)
    sd = float(np.sqrt(slope @ model.fit.covariance @ slope)) / (value * (1 - value))
    odds = np.log(value / (1 - value)) + 1.6448536 * np.array([-sd, sd])
    assert found.value == pytest.approx(value)
    assert [found.low, found.high] == pytest.approx(list(1 / (1 + np.exp(-odds))), abs=1e-5)


@pytest.mark.parametrize(("name", "level"), [("intent", 0), ("intent", 1), ("bpc", 1), ("paper", 0), ("paper", 1), ("light", 1)])
def test_the_chance_of_a_dark_print_is_the_mean_over_the_log(model: Model, name: str, level: int) -> None:
    number = next(n for n, one in enumerate(model.terms.factors) if one.name == name and one.levels)
    _checked(model, model.chance_darker(number, level), name, level)


def test_the_chance_of_one_print_is_that_of_its_row(model: Model) -> None:
    row = model.design.dense()[5]
    eta, scale = float(row @ model.fit.theta), model.fit.scale
    value = 1 / (1 + np.exp((eta + 0.5 / 3) / scale))
    found = model.chance_of(row)
    assert found.value == pytest.approx(value)
    # Log odds are -(eta + 1/6) / scale: their slopes are -row / scale and (eta + 1/6) / scale.
    slope = np.append(-row / scale, (eta + 0.5 / 3) / scale)
    sd = float(np.sqrt(slope @ model.fit.covariance @ slope))
    odds = np.log(value / (1 - value)) + 1.6448536 * np.array([-sd, sd])
    assert [found.low, found.high] == pytest.approx(list(1 / (1 + np.exp(-odds))))


def test_an_average_counts_every_print_once(model: Model) -> None:
    rows = model.design.dense()
    assert model.prints == 60
    assert model.average().value == pytest.approx(float(model.count @ rows @ model.fit.theta) / 60)


def test_effects_are_told_against_the_average_of_the_levels_and_a_slope_by_its_unit(model: Model) -> None:
    number = next(n for n, one in enumerate(model.terms.factors) if one.name == "intent")
    block = model.design.block(number)
    a, b = model.fit.theta[block][:2]
    assert model.linear(model.effect_row(number, 1))[0] == pytest.approx(b - (40 * a + 20 * b) / 60)
    lift = next(n for n, one in enumerate(model.terms.slopes) if one.name == "lift")
    value, sd = model.linear(model.slope_row(lift))
    assert value == pytest.approx(model.fit.theta[1 + lift] / model.terms.slopes[lift].sd)
    assert sd == pytest.approx(model.fit.covariance[1 + lift, 1 + lift] ** 0.5 / model.terms.slopes[lift].sd)


def test_prints_alike_in_everything_are_one_row() -> None:
    log = _log()
    rating, paper, screen, light = (np.concatenate([one, one]) for one in (log.rating, log.paper, log.screen, log.light))
    twice = Judged(rating, paper, screen, light, log.settings * 2)
    once = fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), PLACE)
    both = fit_model(twice, read_terms(twice.settings, twice.paper, twice.screen, twice.light), PLACE)
    assert both.design.rows == once.design.rows
    assert both.count.tolist() == (2 * once.count).tolist()


def test_without_a_known_light_there_is_no_column_for_it() -> None:
    log = _log()
    found = fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), Surroundings({}, {}, {}))
    assert found.light_column is None
    assert found.usual_offset == 0.0
    assert found.design.covariates.shape[1] == 1 + len(found.terms.slopes)


def test_a_rating_lies_within_half_a_step_and_beyond_at_the_ends() -> None:
    low, high = rating_bounds(np.array([-6, -5, 0, 5, 6]))
    assert (3 * low).tolist() == pytest.approx([-np.inf, -5.5, -0.5, 4.5, 5.5])
    assert (3 * high).tolist() == pytest.approx([-5.5, -4.5, 0.5, 5.5, np.inf])


def test_where_all_prints_hang_in_one_light_its_slope_is_what_was_believed() -> None:
    """A stop lighter a stop, give or take half of one: its offset and the average, within 2 stops of 0, share the data."""
    log = _log()
    one = Judged(log.rating, log.paper, log.screen, np.array(["wall"] * 60, dtype=object), log.settings)
    alike = Surroundings({"wall": 500.0}, {"desk": 120.0}, {})
    found = fit_model(one, read_terms(one.settings, one.paper, one.screen, one.light), alike)
    assert found.light_column is not None
    assert found.fit.theta[found.light_column] == pytest.approx(1.0, abs=0.05)
    assert found.fit.covariance[found.light_column, found.light_column] ** 0.5 == pytest.approx(0.5, abs=0.02)


def test_the_light_has_a_column_where_it_is_known_of_any_print(model: Model) -> None:
    assert model.light_column == 1 + len(model.terms.slopes) == model.design.covariates.shape[1] - 1
    assert np.isnan([PLACE.offset(light, "desk", paper) for light, paper in zip(model.light, model.paper, strict=True)]).any()
