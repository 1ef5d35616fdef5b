"""All rates of all inks together: what the inks share sharpens each, and what none of them shows is nothing."""

from __future__ import annotations

import numpy as np
import pytest

from logbook.analysis.ink.answer import InkUse, fit_inks
from logbook.analysis.ink.draws import IDLE
from logbook.analysis.ink.joint import interval_of
from tests.analysis.ink.hand import MATTE, PHOTO, Hand

DAY = 24.0


def _read_daily(idle_ml: float, inks: tuple[str, ...] = ("cyan", "magenta", "grey"), photo: float = 1.0) -> InkUse:
    """Two months of 2 ml a m² of each ink on matte papers, then two on photo papers; the gauge read to 1 % of 300 ml."""
    hand = Hand(*inks, step=1.0)
    rng = np.random.default_rng(4)
    gone = {ink: 0.3 * n for n, ink in enumerate(inks)}
    for ink in inks:
        hand.cartridge(ink, ml=300.0, start=None)
    for day in range(120):
        black = "matte" if day < 60 else "photo"
        area = float(rng.choice([0.0, 0.3, 1.0]))
        if area:
            hand.print(DAY * day + 9, area, black)
        for ink in inks:
            gone[ink] += 2.0 * area * (photo if black == "photo" else 1.0)
        hand.read(DAY * day + 18, **{ink: float(np.clip(round(100.0 - ml / 3.0), 0, 100)) for ink, ml in gone.items()})
        gone = {ink: ml + idle_ml for ink, ml in gone.items()}
    return fit_inks(hand.log())


def test_what_a_printer_draws_by_itself_is_told_from_its_prints() -> None:
    use = _read_daily(0.3)
    for fit in use.fits.values():
        assert fit.rate(IDLE) == pytest.approx(0.3, abs=0.1)
        assert fit.rate(MATTE) == pytest.approx(2.0, rel=0.08)
    assert use.together.chance[IDLE] > 0.95


def test_a_printer_that_draws_nothing_by_itself_is_said_to_draw_nothing() -> None:
    use = _read_daily(0.0)
    found = use.by_itself()
    assert found is not None
    assert found.low == 0.0
    assert found.value < 0.05


def test_a_colour_has_a_rate_on_each_black() -> None:
    use = _read_daily(0.0, photo=1.4)
    for fit in use.fits.values():
        assert fit.rate(PHOTO) / fit.rate(MATTE) == pytest.approx(1.4, abs=0.1)


def test_a_value_never_lies_outside_its_ends() -> None:
    drawn = np.zeros(100)
    drawn[0] = 50.0
    assert interval_of(drawn).value == 0.0
    assert interval_of(np.arange(101.0)).value == pytest.approx(50.0)


def test_the_same_log_gives_the_same_answer() -> None:
    first, second = _read_daily(0.1), _read_daily(0.1)
    assert [fit.intervals for fit in first.fits.values()] == [fit.intervals for fit in second.fits.values()]
