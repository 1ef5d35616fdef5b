"""What the inks' misses between readings say of prints and changeovers, on figures that are given."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.events import POOLED
from logbook.analysis.ink.fit import InkFit, Variation
from logbook.analysis.ink.variation import GIVE_OR_TAKE, LIKELY_EXCHANGES, _Between, _common, _moments, _own, variation
from tests.analysis.ink.hand import MATTE, Hand

OUT = ("matte", "photo")


def test_products_of_two_inks_are_summed_over_all_pairs() -> None:
    """Misses 1, 2 and -3 have the products 2, -3 and -6, each counted both ways."""
    between = _Between(misses=[1.0, 2.0, -3.0], prints=[1.0, 1.0, 2.0], exchanges=[0.0, 3.0, 4.0], variances=[0.5, 0.25, 1.0])
    assert _moments(between) == pytest.approx((-14.0, 10.0, 24.0, 1.75, 14.0, 25.0, 3.0))


def test_exchanges_differ_in_each_ink_by_what_its_misses_hold_beyond_the_known_and_the_common() -> None:
    """Ten changeovers alike: misses of 9 + 0.04 * 100 + 0.02 * 100 in squares where 9 are known beforehand."""
    row = [0.0, 0.0, 1.0, 9.0, 9.0 + 4.0 + 2.0, 100.0, 5.0]
    assert _own(np.array([row] * 10), 0.04) == pytest.approx(0.02)


def test_less_than_its_own_standard_error_is_nothing() -> None:
    """One changeover: the error is sqrt(2 / 5) * 9 / 100 = 0.0569."""
    below, above = ([[0.0, 0.0, 1.0, 9.0, 9.0 + 100 * found, 100.0, 5.0]] for found in (0.056, 0.058))
    assert _own(np.array(below), 0.0) == 0.0
    assert _own(np.array(above), 0.0) == pytest.approx(0.058)


def test_many_products_give_back_the_spreads_they_were_made_from() -> None:
    rng = np.random.default_rng(1)
    prints, exchanges = rng.uniform(500, 1000, 400), rng.choice([0.0, 800.0], 400)
    table = np.column_stack([0.01 * prints + 0.0025 * exchanges, prints, exchanges, np.ones(400)])
    assert _common(table, 0.09) == pytest.approx((0.01, 0.0025), rel=0.01)


def test_products_that_say_nothing_leave_the_likely_spreads() -> None:
    nothing = np.zeros((1, 7))
    nothing[0, 3] = 1.0
    assert _common(nothing, 0.09) == pytest.approx((0.09 / 2, LIKELY_EXCHANGES))
    assert _common(nothing, 0.0) == pytest.approx((LIKELY_EXCHANGES, LIKELY_EXCHANGES))


def test_a_product_and_a_likely_value_are_weighed_by_what_they_are_known_to() -> None:
    """Product 0.05 * 10 of misses of variance 2: known to sqrt(2) * 2 / 10; the likely 0.045 to so many times itself."""
    table = np.zeros((1, 7))
    table[0, :4] = 0.5, 10.0, 0.0, 2.0
    seen, believed = (10 / (2**0.5 * 2)) ** 2, (GIVE_OR_TAKE * 0.045) ** -2
    assert _common(table, 0.09)[0] == pytest.approx((0.05 * seen + 0.045 * believed) / (seen + believed))


def test_each_kind_of_draw_has_its_spread() -> None:
    found = Variation(0.2, 0.3, 0.4)
    columns = (MATTE, OUT, "light", f"light{POOLED}deep")
    assert found.common(columns).tolist() == [0.2, 0.3, 0.0, 0.6]
    assert found.whole(columns).tolist() == [0.2, 0.5, 0.0, 0.6]


def _rounds(
    count: int, exchange_every: int, scatter: float, rng: np.random.Generator, *, alike: bool = True
) -> dict[str, InkFit]:
    """Three inks of 2 ml a m² and 8 a changeover, read after every print or changeover; changeovers differ alike or not."""
    hand = Hand("cyan", "magenta", "grey", step=0.01)
    for ink in hand.inks:
        hand.cartridge(ink, ml=10_000.0)
    levels = dict.fromkeys(hand.inks, 100.0)
    for turn in range(count):
        exchanged = turn % exchange_every == exchange_every - 1
        swing = 8.0 * scatter * (np.full(3, rng.normal()) if alike else rng.normal(size=3))
        if exchanged:
            hand.exchange(10 * turn + 1, to="photo" if turn // exchange_every % 2 == 0 else "matte")
        else:
            hand.print(10 * turn + 1, 1.0)
        for ink, more in zip(hand.inks, swing, strict=True):
            levels[ink] -= (8.0 + more if exchanged else 2.0) / 100
        hand.read(10 * turn + 2, **{ink: round(level, 2) for ink, level in levels.items()})
    return fit_inks(hand.log()).fits


def test_exchanges_that_differ_alike_in_all_inks_are_found_to() -> None:
    found = variation(_rounds(160, 4, 0.3, np.random.default_rng(3)), 0.01)
    assert found.exchanges == pytest.approx(0.3, rel=0.35)
    assert found.exchanges_own < 0.5 * found.exchanges


def test_three_exchanges_leave_a_likely_spread() -> None:
    found = variation(_rounds(30, 10, 0.0, np.random.default_rng(4)), 0.01)
    assert found.exchanges_own == 0.0
    assert found.exchanges == pytest.approx(LIKELY_EXCHANGES**0.5, rel=0.05)


def test_without_two_inks_read_together_nothing_is_common() -> None:
    assert variation({}, 0.01) == Variation(0.0, 0.0)
    alone = _rounds(20, 5, 0.1, np.random.default_rng(5))["cyan"]
    assert variation({"cyan": alone}, 0.01) == Variation(0.0, 0.0)


def test_exchanges_that_differ_in_each_ink_for_itself_are_told_from_those_that_differ_alike() -> None:
    rng = np.random.default_rng(6)
    alike = variation(_rounds(160, 4, 0.3, rng), 0.01)
    apart = variation(_rounds(160, 4, 0.3, rng, alike=False), 0.01)
    assert alike.exchanges_own < 0.1 < alike.exchanges
    assert apart.exchanges < 0.15
    assert apart.exchanges_own == pytest.approx(0.3, rel=0.35)
