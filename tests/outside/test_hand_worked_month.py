"""A month worked out by hand (common practice, no source: only arithmetic).

Sheets on the 610 mm roll: 30 × 40 cm with 25 mm around is 350 × 450, laid with 450 across: 350 mm of roll, 0.2135 m²,
0.0560 of it cut away. 50 × 70 cm with 20 mm around is 540 × 740, which only fits along: 740 mm, 0.4514 m², 0.0518 cut
away. A strip of 10 × 15 cm takes 100 mm: 0.0610 m², 0.0460 cut away. One sheet of A4: 0.06237 m², 0.01037 cut away.

Ink: matte papers take 5 + 10 ml per m², glossy ones 5 + 8. Prices: cyan 0.60, matte black 0.80, photo black 0.90 a ml;
so a ml on matte paper costs (5 · 0.6 + 10 · 0.8) / 15 = 11/15, on glossy paper (5 · 0.6 + 8 · 0.9) / 13 = 10.2/13.
"""

from __future__ import annotations

import datetime as dt

import pytest

from logbook.reports.month.answer import answer
from logbook.reports.month.model import MonthAnswer
from logbook.snapshot import take
from logbook.store import Store
from tests.reports.month import log as month_log


@pytest.fixture
def october(store: Store) -> MonthAnswer:
    month_log.fill(store, month_log.october())
    return answer(take(store, dt.date(2026, 11, 25)), month="2026-10", ink=month_log.ink())


def test_keepers(october: MonthAnswer) -> None:
    assert (october.prints, october.judged, october.keepers, october.redo, october.scrap) == (5, 4, 2, 1, 1)
    assert october.attempts_per_keeper == 2.0
    assert october.keeper_rate is not None
    # Wilson 1927 by hand: z = 1.644854, 2 of 4: centre 0.5, half width z/(1 + z²/4)·√(1/16 + z²/64) = 0.317600.
    assert october.keeper_rate.low == pytest.approx(0.5 - 0.317600, abs=1e-5)
    assert october.keeper_rate.high == pytest.approx(0.5 + 0.317600, abs=1e-5)


def test_paper(october: MonthAnswer) -> None:
    assert october.paper_m2 == pytest.approx(2 * 0.2135 + 0.4514 + 0.0610 + 0.06237)
    assert october.waste_m2 == pytest.approx(2 * 0.0560 + 0.0518 + 0.0460 + 0.01037)
    assert october.cost.paper == pytest.approx((2 * 0.2135 + 0.4514 + 0.0610) * 20 + 30 / 25)


def test_ink(october: MonthAnswer) -> None:
    """2 ml as noted; 0.12, 0.35 and 0.015 m² at 15 ml; 0.0432 m² at 13 ml."""
    assert october.ink_ml == pytest.approx(2.0 + 1.8 + 5.25 + 0.225 + 0.5616)
    assert october.cost.ink == pytest.approx(9.275 * 11 / 15 + 0.5616 * 10.2 / 13)
    assert october.ink_unknown_prints == 0


def test_money(october: MonthAnswer) -> None:
    assert october.changeovers.count == 2
    assert october.cost.changeovers == pytest.approx(3.5 + 6.5)
    assert october.cost.total == pytest.approx(19.988 + 7.2423067 + 10.0)
    assert october.cost_per_keeper == pytest.approx(37.2303067 / 2)
    assert october.income == 120.0
    assert october.margin == pytest.approx(120.0 - 37.2303067)


def test_darkness_is_that_of_the_last_judgements_and_a_strip_has_none(october: MonthAnswer) -> None:
    assert october.darkness_stops == pytest.approx((-1 - 2 + 0 - 1) / 3 / 4)
    assert october.darkness_prints == 4


def test_papers_add_up_to_the_month(october: MonthAnswer) -> None:
    rag, gloss = october.papers
    assert (rag.paper, rag.prints, rag.keepers) == ("rag", 4, 2)
    assert (gloss.paper, gloss.prints, gloss.keepers, gloss.cost_per_keeper) == ("gloss", 1, 0, None)
    assert gloss.cost.changeovers == pytest.approx(10.0 / 5)
    for name in ("paper_m2", "waste_m2", "ink_ml"):
        assert getattr(rag, name) + getattr(gloss, name) == pytest.approx(getattr(october, name))
    assert (rag.cost.total or 0) + (gloss.cost.total or 0) == pytest.approx(october.cost.total)


def test_what_a_30_by_40_must_sell_for(october: MonthAnswer) -> None:
    """One attempt: 0.2135 m² at 20, ink as the rag paper took it for a m², a fifth of the changeovers.

    Three for two keepers, as the strip is no attempt.

    The median border of the four prints on rag (25, 25, 20, 0) is 22.5 mm, so the sheet is 345 × 445: 0.21045 m².
    """
    price = next(p for p in october.prices if p.paper == "rag" and (p.width_mm, p.height_mm) == (300, 400))
    ink_per_m2 = 9.275 * 11 / 15 / (0.12 + 0.12 + 0.35 + 0.015)
    attempt = 0.610 * 0.345 * 20 + ink_per_m2 * 0.12 + 10.0 / 5
    assert price.cost_per_print == pytest.approx(attempt)
    assert price.keeper_cost.value == pytest.approx(attempt * 3 / 2)
    assert (price.prints, price.made, price.sold, price.sold_for) == (3, 2, 1, 60.0)


def test_a_size_that_was_never_made_is_priced_on_every_paper_it_fits(store: Store) -> None:
    """40 × 50 cm with 22.5 mm around is 445 × 545: 445 mm of roll, 0.27145 m². It does not go onto A4."""
    month_log.fill(store, month_log.october())
    told = answer(take(store, dt.date(2026, 11, 25)), month="2026-10", size=(500, 400), ink=month_log.ink())
    (price,) = [p for p in told.prices if (p.width_mm, p.height_mm) == (400, 500)]
    ink_per_m2 = 9.275 * 11 / 15 / (0.12 + 0.12 + 0.35 + 0.015)
    assert price.paper == "rag"
    assert price.cost_per_print == pytest.approx(0.610 * 0.445 * 20 + ink_per_m2 * 0.2 + 2.0)
    assert (price.prints, price.made, price.sold) == (3, 0, 0)


def test_pictures_share_what_the_order_brought(october: MonthAnswer) -> None:
    ebb, groyne = october.pictures
    assert (ebb.picture, ebb.prints, ebb.income) == ("ebb", 4, 60.0)
    assert (groyne.picture, groyne.prints, groyne.income) == ("groyne", 1, 60.0)
    assert (ebb.cost or 0) + (groyne.cost or 0) == pytest.approx(october.cost.total)
    assert groyne.margin == pytest.approx(60.0 - (0.4514 * 20 + 5.25 * 11 / 15 + 2.0))
