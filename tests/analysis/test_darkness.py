"""The darkness analysis on simulated logbooks, and on logs that cannot tell."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness import (
    FEWEST_PRINTS,
    Darkness,
    Judged,
    LevelEffect,
    Standing,
    _importance,
    analyse,
    plain_average,
    what_is_missing,
)
from logbook.analysis.light import Surroundings
from logbook.analysis.numeric.interval import Interval
from logbook.analysis.terms import Value
from tests.analysis.darkness_simulation import NO_EFFECT, SCATTER, coverage, rating_of, simulate
from tests.analysis.test_terms import texts

NOWHERE = Surroundings({}, {}, {})


def judged(rating: list[int], settings: list[dict[str, Value]] | None = None, paper: list[str] | None = None) -> Judged:
    count = len(rating)
    nothing = texts(*[None] * count)
    papers = texts(*(paper or ["rag"] * count))
    return Judged(np.array(rating, dtype=np.int64), papers, nothing, nothing, settings or [{} for _ in range(count)])


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
    assert thousand.spread_stops == pytest.approx(SCATTER, rel=0.1)


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
    # Fixed seed; tests/bench/darkness_simulation.py does the same on 300 logbooks of each size.
    found = coverage(prints=150, logbooks=40, seed=5)
    assert 0.84 <= found.share <= 0.96
    assert np.mean(found.slopes_held) >= 0.82
    for name, clear in found.false_clear.items():
        assert np.mean(clear) <= 0.15, name


def _held_with_rare_levels(rng: np.random.Generator) -> list[bool]:
    """One logbook of 300 prints: four settings of six levels, each on a third of the prints of the one before."""
    shares, effects = 0.35 ** np.arange(6), np.linspace(-0.1, 0.1, 6)
    chosen = rng.choice(6, (4, 300), p=shares / shares.sum())
    stops = -0.25 + effects[chosen].sum(axis=0) + SCATTER * rng.logistic(size=300)
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


def test_the_log_can_be_in_any_order() -> None:
    simulated = simulate(200, np.random.default_rng(3))
    log = simulated.judged
    order = np.random.default_rng(4).permutation(200)
    shuffled = Judged(log.rating[order], log.paper[order], log.screen[order], log.light[order], [log.settings[n] for n in order])
    one, other = (analyse(each, simulated.place) for each in (log, shuffled))
    effects = [{(e.setting, e.level): round(e.effect_stops.value, 5) for e in each.levels} for each in (one, other)]
    assert effects[0] == effects[1]


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


def test_no_print_at_all_is_said() -> None:
    found = analyse(judged([]), NOWHERE)
    assert found.missing is not None and "No print" in found.missing
    assert found.average_stops is None and not found.levels


def test_few_prints_say_how_many_are_missing() -> None:
    found = analyse(judged([0, -1, 0, 1]), NOWHERE)
    assert found.missing is not None and f"{FEWEST_PRINTS - 4} more" in found.missing
    assert found.average_stops is not None and found.average_stops.low < 0 < found.average_stops.high
    assert not found.levels


@pytest.mark.parametrize("rating", [-6, -1, 0, 6])
def test_ratings_all_alike_are_no_answer(rating: int) -> None:
    found = analyse(judged([rating] * 30, [{"intent": "a" if n % 2 else "b"} for n in range(30)]), NOWHERE)
    assert found.missing is not None and "alike" in found.missing
    assert not found.levels
    assert (found.average_stops is None) == (abs(rating) == 6)


def test_ratings_at_both_ends_are_no_answer() -> None:
    found = analyse(judged([-6, 6] * 15), NOWHERE)
    assert found.missing is not None and "ends of the scale" in found.missing
    assert found.average_stops is None


def test_settings_that_never_changed_are_no_answer_but_the_average_is() -> None:
    rng = np.random.default_rng(12)
    rating = [int(one) for one in np.rint(3 * (-0.3 + 0.15 * rng.logistic(size=80)))]
    found = analyse(judged(rating, [{"intent": "perceptual"} for _ in range(80)]), NOWHERE)
    assert found.missing is not None and "No setting was ever changed" in found.missing
    assert found.average_stops is not None and not found.average_stops.excludes(-0.3)


def test_nearly_all_alike_keeps_wide_intervals() -> None:
    rating = [0] * 59 + [-1]
    found = analyse(judged(rating, [{"intent": "a" if n % 2 else "b"} for n in range(60)]), NOWHERE)
    assert found.missing is None
    assert all(np.isfinite([one.effect_stops.low, one.effect_stops.high]).all() for one in found.levels)
    assert {one.standing for one in found.levels} == {"open"}


def test_mostly_extreme_ratings_give_finite_numbers() -> None:
    rng = np.random.default_rng(13)
    rating = [int(one) for one in rng.choice([-6, -6, -6, -5], 80)]
    found = analyse(judged(rating, [{"intent": str(rng.choice(["a", "b"]))} for _ in range(80)]), NOWHERE)
    assert all(np.isfinite([one.effect_stops.low, one.effect_stops.high]).all() for one in found.levels)


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


def test_one_print_is_counted_as_one() -> None:
    assert what_is_missing(judged([0])) == "1 print is judged; 9 more will do to compare settings, best on different settings."
    assert (
        what_is_missing(judged([0, 1])) == "2 prints are judged; 8 more will do to compare settings, best on different settings."
    )


def test_ten_prints_are_enough_to_compare() -> None:
    assert what_is_missing(judged([0, 1] * 5)) is None
    assert what_is_missing(judged([0, 1, 0, 1, 0, 1, 0, 1, 0])) is not None


def test_what_cannot_be_told_is_said_in_whole_sentences() -> None:
    assert what_is_missing(judged([])) == "No print has a judgement with a darkness yet: judge some against the screen."
    alike = "All 12 prints were rated alike, so no setting can be seen to matter."
    assert what_is_missing(judged([2] * 12)) == alike
    ends = "All 12 prints were rated at the ends of the scale, beyond which nothing can be told."
    assert what_is_missing(judged([6, -6] * 6)) == ends
    never = "No setting was ever changed between the judged prints, so none can be compared."
    assert analyse(judged([0, 1, 2] * 4), NOWHERE).missing == never


def test_a_calculation_that_comes_to_no_end_is_said_and_leaves_the_average(monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(*_: object) -> None:
        raise ArithmeticError("the spreads do not settle")

    monkeypatch.setattr("logbook.analysis.darkness.fit_model", endless)
    found = analyse(judged([0, 3] * 6), NOWHERE)
    assert found.missing == "The calculation came to no end: the spreads do not settle."
    assert found.average_stops is not None and found.average_stops.value == 0.5
    assert found.model is None and found.levels == ()


def test_the_plain_average_is_as_sure_as_students_t_says() -> None:
    """0 and 1 stop: standard error 1/2, 6.314 for one degree of freedom."""
    found = plain_average(judged([0, 3]))
    assert found is not None
    assert [found.value, found.low, found.high] == pytest.approx([0.5, 0.5 - 6.313752 / 2, 0.5 + 6.313752 / 2])


def test_ratings_all_alike_are_known_to_half_a_step() -> None:
    found = plain_average(judged([-3, -3, -3]))
    assert found is not None
    assert [found.value, found.low, found.high] == pytest.approx([-1.0, -1 - 1 / 6, -1 + 1 / 6])


def test_one_rating_at_an_end_leaves_no_plain_average() -> None:
    assert plain_average(judged([0, 1, 6])) is None


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
    assert _importance(clear) < _importance(leaning) < _importance([level(1.5, "open")])
