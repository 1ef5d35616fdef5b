"""What was always changed together is found, and rare changes are not mistaken for it."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.darkness.entanglement import CALENDAR, Switch, entangled, overlap, shared, switched
from logbook.analysis.darkness.terms import Value
from tests.analysis.darkness.test_terms import terms_of


def test_two_settings_changed_together_are_entangled() -> None:
    terms = terms_of([{"resolution_dpi": 720 if n % 3 else 1440, "bidirectional": n % 3 > 0} for n in range(60)])
    [pair] = entangled(terms)
    assert {pair.a, pair.b} == {"resolution_dpi", "bidirectional"}
    assert pair.overlap == 1.0


def test_from_95_of_100_on_they_are_entangled() -> None:
    def with_apart(apart: int) -> list[dict[str, Value]]:
        return [{"a": n % 2 == 0, "b": (n % 2 == 0) != (n < apart)} for n in range(100)]

    assert [pair.overlap for pair in entangled(terms_of(with_apart(5)))] == [0.95]
    assert entangled(terms_of(with_apart(6))) == []


def test_the_smaller_direction_counts() -> None:
    a, b = np.array([0, 1, 2, 3] * 10), np.array([0, 0, 1, 1] * 10)
    assert overlap(a, b) == 0.5
    assert overlap(b, a) == 0.5


def test_two_rare_changes_that_never_met_are_not_entangled() -> None:
    settings: list[dict[str, Value]] = [{"a": n == 3 or n == 50, "b": n == 20 or n == 70} for n in range(100)]
    terms = terms_of(settings)
    assert overlap(terms.factors[0].codes, terms.factors[1].codes) > 0.95
    assert entangled(terms) == []


def test_slopes_are_compared_by_their_correlation() -> None:
    rng = np.random.default_rng(1)
    x = rng.uniform(0, 60, 80)
    together: list[dict[str, Value]] = [{"shadow_lift": float(v), "gain": float(2 * v + rng.normal(0, 0.5))} for v in x]
    apart: list[dict[str, Value]] = [{"shadow_lift": float(v), "gain": float(rng.uniform(0, 60))} for v in x]
    assert len(entangled(terms_of(together))) == 1
    assert entangled(terms_of(apart)) == []


def test_lambda_is_one_for_a_perfect_match_and_zero_for_none() -> None:
    codes = np.array([0, 1, 1, 0, 1])
    assert shared(codes, 1 - codes) == 1.0
    assert shared(codes, np.zeros(5, dtype=np.int64)) == pytest.approx(0.0)


def test_knowing_the_one_from_the_other_counts_by_its_worse_direction() -> None:
    """b tells a's level of 4 from its own only half of the time; a tells b's without fault. Lambda by hand: 1/3 and 1."""
    a, b = np.array([0, 1, 2, 3] * 10), np.array([0, 0, 1, 1] * 10)
    assert shared(a, b) == pytest.approx(1 / 3)
    assert shared(b, a) == pytest.approx(1 / 3)


def test_a_slope_and_a_factor_that_changed_together_are_entangled() -> None:
    settings: list[dict[str, Value]] = [{"gain": float(n % 6), "mode": "low" if n % 6 < 3 else "high"} for n in range(60)]
    terms = terms_of(settings)
    assert entangled(terms) == []  # the mode does not tell which of three gains
    follows: list[dict[str, Value]] = [{"gain": float(n % 6), "mode": f"m{n % 6}"} for n in range(60)]
    [pair] = entangled(terms_of(follows))
    assert ({pair.a, pair.b}, pair.overlap) == ({"gain", "mode"}, 1.0)


def test_the_overlap_of_slopes_is_their_squared_correlation_and_the_closest_come_first() -> None:
    x = np.arange(40.0)
    wave = np.where(np.arange(40) % 2, 2.0, -2.0)
    settings: list[dict[str, Value]] = [{"a": float(v), "b": float(v + w), "c": float(v)} for v, w in zip(x, wave, strict=True)]
    found = entangled(terms_of(settings))
    together = float(np.corrcoef(x, x + wave)[0, 1]) ** 2
    assert 0.95 < together < 1
    assert [(pair.a, pair.b) for pair in found] == [("a", "c"), ("a", "b"), ("b", "c")]
    assert [pair.overlap for pair in found] == pytest.approx([1.0, together, together])


def test_a_setting_switched_back_is_told_apart_from_the_calendar() -> None:
    once: list[dict[str, Value]] = [{"helper": n >= 60} for n in range(120)]
    assert [(pair.a, pair.b) for pair in entangled(terms_of(once))] == [("helper", CALENDAR)]
    again: list[dict[str, Value]] = [{"helper": 60 <= n < 118} for n in range(120)]
    assert entangled(terms_of(again)) == []


def test_where_a_setting_was_switched_is_found_in_a_long_log_too() -> None:
    codes = np.zeros(10_000, dtype=np.int64)
    codes[4321:] = 1
    assert switched(codes) == Switch(4321, 1.0, 0)
    codes[9000] = 0
    found = switched(codes)
    assert found is not None and (found.first, found.back) == (4321, 1)
    assert switched(np.arange(500) % 2) is None
    assert switched(np.zeros(0, dtype=np.int64)) is None
