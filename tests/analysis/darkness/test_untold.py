"""Logs that tell little of darkness, or nothing: what is missing is said, and the plain average where there is one."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.answer import FEWEST_PRINTS, analyse, plain_average, what_is_missing
from tests.analysis.darkness.hand import NOWHERE, judged


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
    alike = "All 12 prints were judged alike, so no setting can be seen to matter."
    assert what_is_missing(judged([2] * 12)) == alike
    ends = "All 12 prints were judged at the ends of the scale, beyond which nothing can be told."
    assert what_is_missing(judged([6, -6] * 6)) == ends
    never = "No setting was ever changed between the judged prints, so none can be compared."
    assert analyse(judged([0, 1, 2] * 4), NOWHERE).missing == never


def test_a_calculation_that_comes_to_no_end_is_said_and_leaves_the_average(monkeypatch: pytest.MonkeyPatch) -> None:
    def endless(*_: object) -> None:
        raise ArithmeticError("the spreads do not settle")

    monkeypatch.setattr("logbook.analysis.darkness.answer.fit_model", endless)
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
