"""Settings become factors and slopes, and what cannot be compared is named."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from logbook.analysis.terms import MOST_LEVELS, MOST_SETTINGS, Terms, Value, code_levels, read_terms


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
