"""Settings become factors and slopes, and what cannot be compared is named."""

from __future__ import annotations

import numpy as np
import pytest
from numpy.typing import NDArray

from logbook.analysis.darkness.terms import MOST_LEVELS, MOST_SETTINGS, Factor, Terms, Value, code_levels, read_terms


def texts(*values: str | None) -> NDArray[np.object_]:
    out = np.empty(len(values), dtype=object)
    out[:] = values
    return out


def terms_of(settings: list[dict[str, Value]], paper: list[str] | None = None) -> Terms:
    nothing = texts(*[None] * len(settings))
    return read_terms(settings, texts(*(paper or ["rag"] * len(settings))), nothing, nothing)


def names(terms: Terms) -> list[str]:
    return [one.name for one in terms.factors if one.levels]


def test_true_is_not_one_but_one_is_one_point_nought() -> None:
    levels, codes = code_levels([True, 1, 1.0, False, 0])
    assert levels == [True, 1, False, 0]
    assert codes.tolist() == [0, 1, 1, 2, 3]


def test_four_numbers_are_a_factor_and_five_a_slope() -> None:
    four = terms_of([{"lift": n % 4} for n in range(40)])
    five = terms_of([{"lift": n % 5} for n in range(40)])
    assert names(four) == ["lift"] and not four.slopes
    assert not names(five) and [one.name for one in five.slopes] == ["lift"]


def test_numbers_mixed_with_words_are_a_factor() -> None:
    mixed: list[dict[str, Value]] = [{"lift": n % 6 if n % 6 else "none"} for n in range(60)]
    assert names(terms_of(mixed)) == ["lift"]


def test_levels_keep_the_value_as_recorded_and_the_most_used_comes_first() -> None:
    terms = terms_of([{"bidirectional": n % 3 == 0} for n in range(30)])
    assert terms.factors[0].levels == (False, True)
    assert terms.factors[0].counts.tolist() == [20, 10]


def test_a_missing_setting_is_a_level_that_is_not_reported() -> None:
    settings: list[dict[str, Value]] = [{"intent": "a"}, {"intent": "b"}, {}] * 10
    [factor] = terms_of(settings).factors
    assert factor.levels == ("a", "b") and factor.width == 3
    assert factor.counts.tolist() == [10, 10, 10]


def test_a_slope_that_is_not_noted_everywhere_has_a_level_for_that() -> None:
    settings: list[dict[str, Value]] = [*(dict[str, Value](lift=n) for n in range(10)), *(dict[str, Value]() for _ in range(5))]
    terms = terms_of(settings)
    assert terms.slopes[0].scaled[-5:].tolist() == [0.0] * 5
    assert [(one.name, one.levels, one.width) for one in terms.factors] == [("lift", (), 2)]


def test_what_is_the_same_on_every_print_of_a_paper_follows_it() -> None:
    settings: list[dict[str, Value]] = [
        {"media": "m1", "bpc": True},
        {"media": "m1", "bpc": False},
        {"media": "m2", "bpc": True},
    ] * 5
    terms = terms_of(settings, ["rag", "rag", "satin"] * 5)
    assert terms.follows == ("media",)
    assert terms.unvaried == ()
    assert names(terms) == ["paper", "bpc"]


def test_what_never_changed_is_named_so() -> None:
    terms = terms_of([{"scale_percent": 100, "bpc": n % 2 == 0} for n in range(20)])
    assert terms.unvaried == ("scale_percent",)


def test_one_recorded_value_beside_none_compares_nothing() -> None:
    settings: list[dict[str, Value]] = [{"intent": "a"}, {}] * 10
    terms = terms_of(settings)
    assert names(terms) == [] and terms.unvaried == ("intent",)


def test_thousands_of_values_are_set_aside() -> None:
    terms = terms_of([{"file": f"scan {n}", "bpc": n % 2 == 0} for n in range(3000)])
    assert terms.set_aside == ("file",)
    assert names(terms) == ["bpc"]


def test_many_values_of_which_some_are_common_are_kept_in_part() -> None:
    settings: list[dict[str, Value]] = [
        *(dict[str, Value](profile=f"p{n % 5}") for n in range(200)),
        *(dict[str, Value](profile=f"q{n}") for n in range(90)),
    ]
    [factor] = terms_of(settings).factors
    assert set(factor.levels) == {f"p{n}" for n in range(5)}
    assert len(factor.levels) <= MOST_LEVELS and factor.width == 6


def test_thousands_of_settings_are_cut_to_the_most_noted() -> None:
    settings: list[dict[str, Value]] = [{f"s{n}": k % 2 == 0 for n in range(200)} for k in range(20)]
    terms = terms_of(settings)
    assert len(names(terms)) == MOST_SETTINGS
    assert len(terms.set_aside) == 200 - MOST_SETTINGS


def test_a_free_setting_named_like_a_place_is_no_place() -> None:
    terms = terms_of([{"paper": "laid" if n % 2 else "wove"} for n in range(20)], ["rag", "satin"] * 10)
    assert "setting paper" in (*names(terms), *terms.follows)


def test_levels_that_no_print_has_are_counted_as_none() -> None:
    assert Factor("intent", ("a", "b"), np.array([0, 0]), 3).counts.tolist() == [2, 0, 0]


def test_levels_used_equally_often_keep_the_order_of_their_first_use() -> None:
    [factor] = terms_of([{"profile": f"p{(7 * n) % 20}"} for n in range(40)]).factors
    assert factor.levels == tuple(f"p{(7 * n) % 20}" for n in range(20))


def _profiles(common: int, times: int, rare: int) -> Terms:
    used = [f"common {n}" for n in range(common) for _ in range(times)] + [f"rare {n}" for n in range(rare)]
    return terms_of([{"profile": name} for name in used])


def test_sixty_levels_are_all_told_apart_and_of_more_those_used_twice() -> None:
    [sixty] = _profiles(30, 2, 30).factors
    assert len(sixty.levels) == 60
    [more] = _profiles(31, 2, 30).factors
    assert set(more.levels) == {f"common {n}" for n in range(31)}
    assert more.width == 32
    assert more.counts.tolist() == [2] * 31 + [30]


def test_no_more_than_sixty_levels_are_told_apart() -> None:
    [factor] = _profiles(70, 3, 0).factors
    assert (len(factor.levels), factor.width) == (60, 61)
    assert factor.counts[60] == 30


def test_a_setting_is_set_aside_where_its_common_levels_are_less_than_half_of_the_prints() -> None:
    assert _profiles(30, 2, 60).set_aside == ()
    assert _profiles(30, 2, 61).set_aside == ("profile",)


def test_levels_too_rare_and_levels_not_recorded_are_two() -> None:
    settings: list[dict[str, Value]] = [{"profile": f"c{n % 5}"} for n in range(100)]
    settings += [dict[str, Value](profile=f"r{n}") for n in range(60)] + [dict[str, Value]() for _ in range(7)]
    [factor] = terms_of(settings).factors
    assert (factor.reported, factor.width) == (5, 7)
    assert factor.counts.tolist() == [20] * 5 + [7, 60]


def test_a_slope_is_scaled_by_the_values_noted() -> None:
    settings: list[dict[str, Value]] = [*(dict[str, Value](lift=n) for n in (0, 10, 20, 30, 40)), {}]
    [slope] = terms_of(settings).slopes
    assert [slope.centre, slope.sd] == pytest.approx([20.0, 200**0.5])
    assert slope.scaled.tolist() == pytest.approx([-(2**0.5), -(0.5**0.5), 0.0, 0.5**0.5, 2**0.5, 0.0])


def test_the_settings_noted_on_most_prints_are_kept_and_the_others_named() -> None:
    settings: list[dict[str, Value]] = [{f"s{n}": k % 2 == 0 for n in range(k + 2)} for k in range(41)]
    terms = terms_of(settings)
    assert terms.set_aside == ("s40", "s41")


def test_the_places_come_first_and_only_where_they_differ() -> None:
    lamp, nothing = texts("wall", "window", "wall"), texts(None, None, None)
    terms = read_terms([{}] * 3, texts("rag", "rag", "rag"), nothing, lamp)
    assert [(one.name, one.levels) for one in terms.factors] == [("light", ("wall", "window"))]
    assert terms.follows == ()
