"""A print that could be made: its usual settings, its row, and what a rating of it would tell."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.fitting import fit_model
from logbook.analysis.darkness.judged import Judged
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.model import Model
from logbook.analysis.darkness.prediction import UnknownLevelError, changed, information, row_of, usual, with_level, with_value
from logbook.analysis.darkness.terms import Value, read_terms
from logbook.analysis.numeric.grouped import derivatives
from tests.analysis.darkness.hand import log as judged_log
from tests.analysis.darkness.test_terms import texts

PLACE = Surroundings({"wall": 500.0, "window": 2000.0}, {"desk": 120.0}, {"rag": 0.9, "card": 0.8})


def _log() -> Judged:
    """Sixty prints: two papers, lights, an intent, a switch, a number noted on most and one found of the picture."""
    rng = np.random.default_rng(31)
    settings: list[dict[str, Value]] = []
    for n in range(60):
        one: dict[str, Value] = {"intent": ("a", "b", "a")[n % 3], "bpc": bool(n % 4), "mean_l": 40.0 + n % 11}
        if n % 5:
            one["lift"] = float((0, 10, 10, 20, 30, 40, 50)[n % 7])
        settings.append(one)
    rating = np.clip(np.rint(3 * (-0.2 + 0.3 * rng.logistic(size=60))), -6, 6).astype(np.int64)
    paper = texts(*("rag" if n % 4 < 3 else "card" for n in range(60)))
    light = texts(*(None if n % 10 == 9 else "wall" if n % 5 < 3 else "window" for n in range(60)))
    return judged_log(rating, paper, texts(*["desk"] * 60), light, settings)


@pytest.fixture(scope="module")
def model() -> Model:
    log = _log()
    return fit_model(log, read_terms(log.settings, log.paper, log.screen, log.light), PLACE)


def _factor(model: Model, name: str, *, reported: bool = True) -> int:
    return next(n for n, one in enumerate(model.terms.factors) if one.name == name and bool(one.levels) == reported)


def _slope(model: Model, name: str) -> int:
    return next(n for n, one in enumerate(model.terms.slopes) if one.name == name)


def test_the_usual_print_has_what_most_prints_have(model: Model) -> None:
    """10 is noted most often of the lifts, though a fifth of the prints note none."""
    setup = usual(model)
    assert setup.values(model) == {"paper": "rag", "light": "wall", "intent": "a", "bpc": True, "lift": 10.0}
    assert (setup.paper, setup.light, setup.screen) == ("rag", "wall", "desk")


def test_usual_among_some_prints_is_theirs(model: Model) -> None:
    setup = usual(model, np.asarray(model.judged.paper == "card"))
    assert (setup.paper, setup.values(model)["bpc"]) == ("card", True)
    window = usual(model, np.asarray(model.judged.light == "window"))
    assert (window.light, window.values(model)["light"]) == ("window", "window")


def test_a_number_that_hardly_repeats_has_its_middle_value_as_usual() -> None:
    settings: list[dict[str, Value]] = [{"gain": float(n * n)} for n in range(21)]
    nothing = texts(*[None] * 21)
    log = judged_log(np.array([-1, 0, 1] * 7, dtype=np.int64), texts(*["rag"] * 21), nothing, nothing, settings)
    found = fit_model(log, read_terms(settings, log.paper, nothing, nothing), Surroundings({}, {}, {}))
    assert usual(found).values(found) == {"gain": 100.0}


def test_a_number_noted_on_less_than_half_of_the_prints_is_usually_not_noted() -> None:
    settings: list[dict[str, Value]] = [{"gain": float(n)} if n < 9 else {} for n in range(20)]
    nothing = texts(*[None] * 20)
    log = judged_log(np.array([-1, 0, 1, 0] * 5, dtype=np.int64), texts(*["rag"] * 20), nothing, nothing, settings)
    found = fit_model(log, read_terms(settings, log.paper, nothing, nothing), Surroundings({}, {}, {}))
    assert usual(found).values(found) == {}
    assert usual(found).slopes == (None,)
    assert row_of(found, usual(found))[1] == 0.0  # the average
    noted = changed(found, usual(found), "gain", 3)
    assert (noted.slopes, noted.values(found)) == ((3.0,), {"gain": 3.0})
    assert usual(found).codes == (1,) and noted.codes == (0,)  # not noted any more that it was not noted


def test_a_row_holds_the_constant_scaled_numbers_the_light_and_the_levels(model: Model) -> None:
    setup = usual(model)
    row = row_of(model, setup)
    lift, picture = model.terms.slopes[_slope(model, "lift")], model.terms.slopes[_slope(model, "mean_l")]
    value = setup.slopes[_slope(model, "mean_l")]
    assert value is not None
    assert row[0] == 1.0
    assert row[1 + _slope(model, "lift")] == pytest.approx((10.0 - lift.centre) / lift.sd)
    assert row[1 + _slope(model, "mean_l")] == pytest.approx((value - picture.centre) / picture.sd)
    assert model.light_column is not None
    assert row[model.light_column] == pytest.approx(np.log2(500 * 0.9 / np.pi / 120))
    sloped = [model.few.block(one.column) for one in model.depends if one.slope is not None]
    levels = np.delete(row, np.r_[: model.light_column + 1, *sloped])
    assert sorted(set(levels)) == [0.0, 1.0]
    assert levels.sum() == len(model.terms.factors) + len(model.depends) - len(sloped) + model.months
    for one, block in zip([one for one in model.depends if one.slope is not None], sloped, strict=True):
        assert one.slope is not None
        assert sorted(row[block]) == sorted([row[1 + one.slope], *np.zeros(len(one.on) - 1)])


def test_an_unknown_light_counts_as_the_usual_offset(model: Model) -> None:
    setup = with_level(model, usual(model), _factor(model, "light"), 2)
    dark = row_of(model, changed(model, setup, "intent", "b"))
    assert model.light_column is not None
    assert dark[model.light_column] == pytest.approx(row_of(model, usual(model))[model.light_column])  # the level alone is none
    nowhere = type(setup)(setup.codes, setup.slopes, None, setup.screen, setup.paper)
    seen = [PLACE.offset(light, "desk", paper) for light, paper in zip(_log().light, _log().paper, strict=True)]
    assert row_of(model, nowhere)[model.light_column] == pytest.approx(np.nanmean(seen))


def test_another_place_changes_the_light_on_the_paper(model: Model) -> None:
    window = changed(model, usual(model), "light", "window")
    card = changed(model, window, "paper", "card")
    assert (window.light, window.paper, window.screen) == ("window", "rag", "desk")
    assert (card.light, card.paper, card.screen) == ("window", "card", "desk")
    assert model.light_column is not None
    assert row_of(model, card)[model.light_column] == pytest.approx(np.log2(2000 * 0.8 / np.pi / 120))


def test_one_change_changes_nothing_else(model: Model) -> None:
    setup = usual(model)
    before, after = setup.values(model), changed(model, setup, "intent", "b").values(model)
    assert after == before | {"intent": "b"}
    lifted = changed(model, setup, "lift", 30)
    assert lifted.values(model) == before | {"lift": 30.0}
    assert with_value(model, setup, _slope(model, "lift"), 30.0) == lifted


def test_a_number_may_lie_one_deviation_beyond_those_noted(model: Model) -> None:
    sd = model.terms.slopes[_slope(model, "lift")].sd
    assert changed(model, usual(model), "lift", 50 + 0.99 * sd).values(model)["lift"] == pytest.approx(50 + 0.99 * sd)
    assert changed(model, usual(model), "lift", -0.99 * sd).values(model)["lift"] == pytest.approx(-0.99 * sd)
    for far in (50 + 1.01 * sd, -1.01 * sd):
        with pytest.raises(UnknownLevelError, match="far from the 0 to 50"):
            changed(model, usual(model), "lift", far)


def test_a_word_for_a_number_and_a_number_for_a_switch_are_refused(model: Model) -> None:
    with pytest.raises(UnknownLevelError, match="say nothing of lift"):
        changed(model, usual(model), "lift", True)
    with pytest.raises(UnknownLevelError, match="no judged print has bpc = 1"):
        changed(model, usual(model), "bpc", 1)


def test_what_a_rating_tells_is_the_mean_over_all_thirteen(model: Model) -> None:
    row = row_of(model, usual(model))
    eta, s = np.full(13, float(row @ model.fit.theta[: len(row)])), model.fit.s
    edges = np.concatenate([[-np.inf], (np.arange(-6, 6) + 0.5) / 3, [np.inf]])
    at = derivatives(eta, s, edges[:-1], edges[1:])
    told = float(np.exp(at.loglik) @ at.weight)
    assert information(model, row, among_alike=True) == pytest.approx(told)
    assert information(model, row) == pytest.approx(1 / (1 / told + model.unshared_variance))
