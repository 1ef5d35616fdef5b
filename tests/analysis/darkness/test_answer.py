"""The darkness analysis on simulated logbooks, and on logs written by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.darkness.answer import Darkness, analyse
from logbook.analysis.darkness.effects import LevelEffect, Standing, bar_for, importance
from logbook.analysis.darkness.entanglement import CALENDAR
from logbook.analysis.darkness.light import Surroundings
from logbook.analysis.darkness.terms import Value
from logbook.analysis.numeric.interval import Interval
from tests.analysis.darkness.coverage import coverage
from tests.analysis.darkness.hand import NOWHERE, judged
from tests.analysis.darkness.simulation import NO_EFFECT, PLAIN, WORLDS, rating_of, simulate


@pytest.fixture(scope="module")
def thousand() -> Darkness:
    simulated = simulate(1000, np.random.default_rng(21))
    return analyse(simulated.judged, simulated.place)


def test_what_matters_is_found_with_its_sign(thousand: Darkness) -> None:
    off = next(one for one in thousand.levels if one.setting == "black_point_compensation" and one.level is False)
    assert off.standing == "clear"
    assert off.effect_stops.value == pytest.approx(-0.35 * 0.65, abs=0.05)
    on = next(one for one in thousand.levels if one.setting == "black_point_compensation" and one.level is True)
    assert off.chance_darker.low > on.chance_darker.high
    assert thousand.spread_stops == pytest.approx(PLAIN.scatter, rel=0.1)


def test_levels_are_counted_and_their_effects_average_to_nothing(thousand: Darkness) -> None:
    for setting in {one.setting for one in thousand.levels}:
        levels = [one for one in thousand.levels if one.setting == setting]
        assert sum(one.prints for one in levels) == 1000
        assert sum(one.prints * one.effect_stops.value for one in levels) == pytest.approx(0.0, abs=1e-6)
        assert all(0 <= one.darker <= one.prints for one in levels)
        assert all(0 <= one.chance_darker.low <= one.chance_darker.value <= one.chance_darker.high <= 1 for one in levels)


def test_what_matters_comes_first(thousand: Darkness) -> None:
    first, last = thousand.levels[0].setting, thousand.levels[-1].setting
    assert "clear" in {one.standing for one in thousand.levels if one.setting == first}
    assert last in (*NO_EFFECT, "light")


def test_intervals_cover_and_settings_without_effect_stay_quiet() -> None:
    # Fixed seed; tests/bench/darkness_worlds.py does the same in every world and on many logbooks.
    found = coverage(prints=150, logbooks=30, seed=5, world=WORLDS["all three"])
    assert 0.84 <= found.share <= 0.96
    assert np.mean([one for held in found.slopes.values() for one in held]) >= 0.82
    assert found.wrong <= 0.12
    for name, clear in found.false_clear.items():
        assert np.mean(clear) <= 0.2, name  # one in ten by chance, of thirty logs


def _held_with_rare_levels(rng: np.random.Generator) -> list[bool]:
    """One logbook of 300 prints: four settings of six levels, each on a third of the prints of the one before."""
    shares, effects = 0.35 ** np.arange(6), np.linspace(-0.1, 0.1, 6)
    chosen = rng.choice(6, (4, 300), p=shares / shares.sum())
    stops = -0.25 + effects[chosen].sum(axis=0) + PLAIN.scatter * rng.logistic(size=300)
    settings: list[dict[str, Value]] = [
        {f"setting {row}": f"level {level}" for row, level in enumerate(print)} for print in chosen.T
    ]
    found = analyse(judged([int(one) for one in rating_of(stops)], settings), NOWHERE)
    truth = [effects - effects[row].mean() for row in chosen]
    return [not one.effect_stops.excludes(truth[int(one.setting[-1])][int(str(one.level)[-1])]) for one in found.levels]


def test_intervals_of_rare_levels_hold_as_often_as_they_say() -> None:
    rng = np.random.default_rng(19)
    held = [one for _ in range(40) for one in _held_with_rare_levels(rng)]
    assert 0.86 <= np.mean(held) <= 0.94


def test_rare_levels_shrink() -> None:
    rng = np.random.default_rng(8)
    settings: list[dict[str, Value]] = [{"sharpening": "near" if n % 2 else "wall"} for n in range(100)]
    settings += [{"sharpening": "odd"}]
    for thirds, least_pull in ((-2, 0.15), (-5, 0.05)):
        rating = [*(int(one) for one in np.rint(3 * 0.15 * rng.logistic(size=100))), thirds]
        odd = next(one for one in analyse(judged(rating, settings), NOWHERE).levels if one.level == "odd")
        raw = thirds / 3 - float(np.mean(rating)) / 3
        assert odd.prints == 1
        assert raw * (1 - least_pull) < odd.effect_stops.value < 0
        assert odd.effect_stops.width > 0.5


def test_the_light_is_told_from_the_paper() -> None:
    simulated = simulate(600, np.random.default_rng(6))
    found = analyse(simulated.judged, simulated.place)
    assert found.model is not None and found.model.light_column is not None
    slope = float(found.model.fit.theta[found.model.light_column])
    assert slope == pytest.approx(1.0, abs=0.5)
    wall, window = (
        next(one for one in found.levels if one.setting == "light" and one.level == name) for name in ("wall", "window")
    )
    assert wall.chance_darker.value > window.chance_darker.value + 0.2
    assert not wall.effect_stops.excludes(0)


def test_entangled_settings_are_not_called_clear() -> None:
    rng = np.random.default_rng(9)
    both = rng.random(200) < 0.5
    settings: list[dict[str, Value]] = [{"resolution_dpi": 720 if one else 1440, "bidirectional": bool(one)} for one in both]
    rating = [int(one) for one in np.rint(3 * (np.where(both, 0.5, 0.0) + 0.1 * rng.logistic(size=200)))]
    found = analyse(judged(rating, settings), NOWHERE)
    assert [(pair.a, pair.b) for pair in found.pairs] == [("resolution_dpi", "bidirectional")]
    assert {one.standing for one in found.levels} == {"open"}
    assert found.next_test is not None
    assert set(found.next_test.separates) == {"resolution_dpi", "bidirectional"}
    assert found.next_test.interval_then.width < 0.8 * found.next_test.interval_now.width


def test_a_setting_that_follows_the_paper_stays_out() -> None:
    rng = np.random.default_rng(10)
    paper = ["rag" if one else "satin" for one in rng.random(120) < 0.6]
    settings: list[dict[str, Value]] = [{"media": f"m-{one}", "intent": str(rng.choice(["a", "b"]))} for one in paper]
    rating = [int(one) for one in np.rint(3 * 0.2 * rng.logistic(size=120))]
    found = analyse(judged(rating, settings, paper), NOWHERE)
    assert found.terms is not None and found.terms.follows == ("media",)
    assert {one.setting for one in found.levels} == {"paper", "intent"}


# Logs that cannot tell


def test_thousands_of_levels_and_missing_settings_are_borne() -> None:
    rng = np.random.default_rng(14)
    settings: list[dict[str, Value]] = [
        {"file": f"f{n}", **({"intent": str(rng.choice(["a", "b"]))} if n % 3 else {}), "lens": f"l{n % 1500}"}
        for n in range(3000)
    ]
    rating = [int(one) for one in np.clip(np.rint(3 * 0.2 * rng.logistic(size=3000)), -6, 6)]
    found = analyse(judged(rating, settings), NOWHERE)
    assert found.terms is not None and "file" in found.terms.set_aside
    assert {one.level for one in found.levels if one.setting == "intent"} == {"a", "b"}


def test_of_clear_settings_the_one_with_the_largest_single_effect_comes_first() -> None:
    """A rare level 1 stop lighter, its usual level hardly moved, before two levels half a stop apart."""
    rng = np.random.default_rng(51)
    rare, half = rng.random(400) < 0.1, rng.random(400) < 0.5
    settings: list[dict[str, Value]] = [{"half": bool(one), "rare": bool(other)} for one, other in zip(half, rare, strict=True)]
    rating = np.rint(3 * (0.5 * half + 1.0 * rare + 0.1 * rng.logistic(size=400)))
    levels = analyse(judged([int(one) for one in rating], settings), NOWHERE).levels
    assert [one.setting for one in levels] == ["rare", "rare", "half", "half"]
    assert {one.standing for one in levels} == {"clear"}
    assert [one.darker for one in levels if one.setting == "half"] == [
        int((rating[half == one.level] <= -1).sum()) for one in levels if one.setting == "half"
    ]


def test_entangled_slopes_are_open_and_one_that_varies_alone_is_clear() -> None:
    rng = np.random.default_rng(52)
    lift = rng.integers(0, 8, 200)
    alone = rng.integers(0, 6, 200)
    settings: list[dict[str, Value]] = [
        {"lift": int(one), "gain": int(2 * one), "tilt": int(other)} for one, other in zip(lift, alone, strict=True)
    ]
    rating = np.clip(np.rint(3 * (0.1 * lift + 0.1 * alone - 0.6 + 0.1 * rng.logistic(size=200))), -6, 6)
    found = analyse(judged([int(one) for one in rating], settings), NOWHERE)
    assert {one.setting: one.standing for one in found.slopes} == {"lift": "open", "gain": "open", "tilt": "clear"}
    assert [one.prints for one in found.slopes] == [200] * 3


def test_ratings_without_any_scatter_keep_the_least_there_can_be() -> None:
    """Every print with one intent is rated alike: a thirtieth of a stop, what reading in thirds leaves unseen."""
    settings: list[dict[str, Value]] = [{"intent": "a" if n % 2 else "b"} for n in range(400)]
    found = analyse(judged([2 * (n % 2) for n in range(400)], settings), NOWHERE)
    assert found.spread_stops == pytest.approx(0.03)


def test_a_setting_counts_by_its_best_known_level() -> None:
    nothing = Interval(0.0, 0.0, 0.0)

    def level(effect: float, standing: Standing) -> LevelEffect:
        return LevelEffect("intent", "a", 5, 1, Interval(effect, effect, effect), nothing, standing)

    clear, leaning = [level(0.1, "clear"), level(0.2, "open")], [level(0.9, "leaning"), level(-0.9, "leaning")]
    assert importance(clear) < importance(leaning) < importance([level(1.5, "open")])


def test_a_setting_changed_once_is_entangled_with_the_calendar() -> None:
    rng = np.random.default_rng(53)
    settings: list[dict[str, Value]] = [{"helper": n >= 60, "bpc": bool(rng.random() < 0.5)} for n in range(120)]
    rating = [int(one) for one in np.rint(3 * (np.where(np.arange(120) < 60, 0.0, -0.5) + 0.1 * rng.logistic(size=120)))]
    found = analyse(judged(rating, settings), NOWHERE)
    assert [(pair.a, pair.b) for pair in found.pairs] == [("helper", CALENDAR)]
    assert {one.standing for one in found.levels if one.setting == "helper"} == {"open"}
    assert found.next_test is not None
    assert found.next_test.change == {"helper": False}


def test_what_matters_on_one_black_only_is_told_so() -> None:
    simulated = simulate(1000, np.random.default_rng(54), world=WORLDS["one black only"])
    found = analyse(simulated.judged, simulated.place)
    told = {one.on: one.stops for one in found.depends if one.setting == "black_point_compensation" and one.by == "black"}
    assert not told["matte"].excludes(-0.35) and told["matte"].excludes(0)
    assert not told["photo"].excludes(0)
    [whole] = [one for one in found.contrasts if one.setting == "black_point_compensation"]
    assert told["matte"].value < whole.stops.value < told["photo"].value


@pytest.mark.parametrize("back", [0, 6])
def test_what_a_switched_setting_does_is_known_from_the_prints_that_went_back(back: int) -> None:
    """Half a stop darker since the day of the switch: prints that went back show that it is not the setting."""
    rng = np.random.default_rng(55)
    settings: list[dict[str, Value]] = [{"helper": 60 <= n < 120 - back, "bpc": bool(rng.random() < 0.5)} for n in range(120)]
    seen = np.where(np.arange(120) < 60, 0.0, -0.5) + 0.1 * rng.logistic(size=120)
    found = analyse(judged([int(one) for one in np.rint(3 * seen)], settings), NOWHERE)
    [helper] = [one for one in found.contrasts if one.setting == "helper"]
    assert helper.standing != "clear"
    assert not helper.stops.excludes(0.0 if back else -0.25)
    assert (helper.stops.width < 0.5) == bool(back)


def test_a_number_that_matters_on_one_black_only_is_told_so() -> None:
    rng = np.random.default_rng(56)
    lift, matte = rng.choice([0.0, 6.0, 12.0, 18.0, 24.0, 30.0], 400), rng.random(400) < 0.5
    seen = -0.3 + 0.02 * lift * matte + 0.1 * rng.logistic(size=400)
    papers = [
        str(one) for one in np.where(matte, rng.choice(["rag", "card", "etching"], 400), rng.choice(["gloss", "satin"], 400))
    ]
    log = judged([int(one) for one in np.rint(3 * seen)], [{"lift": float(one)} for one in lift], papers)
    black = np.array(["matte" if one else "photo" for one in matte], dtype=object)
    found = analyse(replace(log, black=black), NOWHERE)
    told = {one.on: one for one in found.depends if one.by == "black"}
    assert (told["matte"].level, told["matte"].against) == (30.0, 0.0)
    assert not told["matte"].stops.excludes(0.6) and told["matte"].stops.excludes(0.3)
    assert not told["photo"].stops.excludes(0.0)
    [slope] = found.slopes
    assert not slope.stops_per_unit.excludes(0.02 * float(matte.mean()))


def test_a_light_is_never_clear_beside_one_whose_lux_is_unknown() -> None:
    rng = np.random.default_rng(57)
    window = rng.random(200) < 0.5
    seen = np.where(window, -0.7, 0.0) + 0.1 * rng.logistic(size=200)
    log = judged([int(one) for one in np.rint(3 * seen)])
    light = np.array(["window" if one else "wall" for one in window], dtype=object)
    log = replace(log, light=light, screen=np.full(200, "desk", dtype=object))

    def standings(lux: dict[str, float]) -> set[Standing]:
        found = analyse(log, Surroundings(lux, {"desk": 120.0}, {}))
        told = {one.standing for one in found.contrasts if one.setting == "light"}
        return told | {one.standing for one in found.levels if one.setting == "light"}

    assert standings({"wall": 400.0}) == {"leaning"}
    assert standings({"wall": 400.0, "window": 400.0}) == {"clear"}


def test_of_many_effects_a_few_barely_outside_their_interval_are_not_called_clear() -> None:
    by_chance = [(0.17, 0.1), (-0.18, 0.1), *[(0.05, 0.1)] * 38]
    assert {bar_for(by_chance).standing(*one) for one in by_chance} == {"leaning", "open"}
    sure = [(1.0, 0.1)] * 38 + by_chance[:2]
    assert {bar_for(sure).standing(*one) for one in sure} == {"clear"}
