"""What one exchange takes of all inks together, on fits and influences that are given."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

import numpy as np
import pytest

from logbook.analysis.ink.draws import AREA, Draws
from logbook.analysis.ink.fit import InkFit, Spread, Variation, as_run
from logbook.analysis.ink.log import Floats, InkLog
from logbook.analysis.ink.totals import Shared, direction_total, influence, shared, widened
from logbook.analysis.numeric.interval import Z90, Interval
from logbook.analysis.numeric.mixture import mixture_reach
from tests.analysis.ink.hand import Hand
from tests.analysis.ink.test_fit import _series

OUT = ("matte", "photo")
NONE = np.zeros((3, 2))
# Either is as likely; 0.2 is the root of the mean square of both.
UNSURE = Spread(np.array([0.12, 0.04**0.5 * 1.64**0.5]), np.array([0.5, 0.5]))


def _fit(ink: str, exchange: Interval, variance: float) -> InkFit:
    draws = Draws(ink, (AREA, OUT), np.zeros(0), np.zeros(0, dtype=np.int64), np.zeros(0), np.zeros(0, dtype=np.int64), ())
    area = Interval(2.0, 1.9, 2.1)
    rates = np.array([2.0, exchange.value])
    return InkFit(draws, (), (), rates, (area, exchange), np.diag([0.01, variance]), 0.0, (True, True))


FITS = {"cyan": _fit("cyan", Interval(10.0, 8.0, 13.0), 1.0), "grey": _fit("grey", Interval(5.0, 4.0, 7.0), 0.25)}


def _total(
    fits: Mapping[str, InkFit],
    influences: Mapping[str, Floats],
    likely: Spread | None,
    direction: tuple[str, str],
    worth: Mapping[str, float] | None = None,
) -> Interval | None:
    """The total where the inks' rates of the exchange move so with a print, an exchange and a cleaning."""
    vary = Variation(0.1, 0.2, likely=likely)
    return direction_total(fits, _shared(influences), vary, direction, worth)


def _shared(influences: Mapping[str, Floats]) -> Shared:
    rows = np.column_stack([moved[:, 1] for moved in influences.values()])
    place = {(ink, OUT): n for n, ink in enumerate(influences)}
    return Shared(place, rows.T @ rows, rows[1:2].T @ rows[1:2])


def test_one_ink_alone_has_its_own_interval() -> None:
    found = _total({"cyan": FITS["cyan"]}, {"cyan": NONE}, None, OUT)
    assert found == Interval(10.0, 8.0, 13.0)


def test_distances_of_inks_that_share_nothing_add_up_in_squares() -> None:
    found = _total(FITS, {"cyan": NONE, "grey": NONE}, None, OUT)
    assert found is not None
    assert [found.value, found.low, found.high] == pytest.approx([15.0, 15 - (4 + 1) ** 0.5, 15 + (9 + 4) ** 0.5])


def test_what_inks_have_in_common_stretches_the_distances() -> None:
    """A print moves them by 0.6 and 0.3 together: (0.9)^2 - 0.6^2 - 0.3^2 = 0.36 more than the 1.25 of their own."""
    influences = {ink: NONE.copy() for ink in FITS}
    influences["cyan"][0, 1], influences["grey"][0, 1] = 0.6, 0.3
    found = _total(FITS, influences, None, OUT)
    stretch = (1.61 / 1.25) ** 0.5
    assert found is not None
    assert [found.low, found.high] == pytest.approx([15 - stretch * 5**0.5, 15 + stretch * 13**0.5])


def _reach(variance: float, swung: float) -> float:
    """Of that variance, ``swung`` is due to exchanges: 0.36 or 1.64 times of it, as one half each believes."""
    return mixture_reach(np.sqrt(variance + swung * np.array([-0.64, 0.64])), np.array([0.5, 0.5]))


def test_what_exchanges_bring_is_only_known_as_well_as_their_spread() -> None:
    influences = {ink: NONE.copy() for ink in FITS}
    influences["cyan"][1, 1], influences["grey"][1, 1] = 0.6, 0.3
    assert UNSURE.usual == pytest.approx(0.2)
    found = _total(FITS, influences, UNSURE, OUT)
    stretch = _reach(1.61, 0.81) / np.hypot(_reach(1.0, 0.36), _reach(0.25, 0.09))
    assert found is not None
    assert [found.low, found.high] == pytest.approx([15 - stretch * 5**0.5, 15 + stretch * 13**0.5])


def test_one_ink_s_interval_allows_for_exchanges_that_differ_by_more_or_less() -> None:
    influences = {ink: NONE.copy() for ink in FITS}
    influences["cyan"][1, 1] = 0.9
    found = widened(FITS, _shared(influences), Variation(0.1, 0.2, likely=UNSURE))
    stretch = _reach(1.0, 0.81) / Z90
    area, exchange = found["cyan"].intervals
    assert area == FITS["cyan"].intervals[0]
    assert [exchange.value, exchange.low, exchange.high] == pytest.approx([10.0, 10 - stretch * 2, 10 + stretch * 3])
    assert [one.high for one in found["grey"].intervals] == pytest.approx([2.1, 7.0])
    steady = widened(FITS, _shared(influences), Variation(0.1, 0.2))
    assert steady["cyan"].intervals[1].high == pytest.approx(13.0)


def test_what_the_readings_do_not_tell_apart_adds_up_and_is_not_widened() -> None:
    """Nobody knows how much of either ink went with the exchange rather than the prints: all of it may have, or none."""
    fits = {ink: replace(_fit(ink, Interval(5.0, 0.0, 10.0), 1.0), told=(False, False)) for ink in ("cyan", "grey")}
    fits["black"] = _fit("black", Interval(3.0, 2.5, 4.0), 0.25)
    influences = dict.fromkeys(fits, np.full((3, 2), 0.4))
    assert widened(fits, _shared(influences), Variation(0.1, 0.2, likely=UNSURE))["cyan"].intervals[1].high == 10.0
    found = _total(fits, dict.fromkeys(fits, NONE), None, OUT)
    assert found is not None
    assert [found.value, found.low, found.high] == pytest.approx([13.0, 2.5, 24.0])


def test_what_moves_inks_against_each_other_narrows_nothing() -> None:
    influences = {ink: NONE.copy() for ink in FITS}
    influences["cyan"][0, 1], influences["grey"][0, 1] = 0.6, -0.3
    found = _total(FITS, influences, None, OUT)
    assert found is not None
    assert [found.low, found.high] == pytest.approx([15 - 5**0.5, 15 + 13**0.5])


def test_money_is_the_inks_by_their_worth() -> None:
    """At 0.5 and 2 a ml: 5 + 10, below 1 and 2, above 1.5 and 4."""
    found = _total(FITS, {"cyan": NONE, "grey": NONE}, None, OUT, {"cyan": 0.5, "grey": 2.0})
    assert found is not None
    assert [found.value, found.low, found.high] == pytest.approx([15.0, 15 - 5**0.5, 15 + (1.5**2 + 4**2) ** 0.5])


def test_common_moves_count_by_their_worth() -> None:
    influences = {ink: NONE.copy() for ink in FITS}
    influences["cyan"][0, 1], influences["grey"][0, 1] = 0.6, 0.3
    found = _total(FITS, influences, None, OUT, {"cyan": 0.5, "grey": 2.0})
    own = 0.25 * 1.0 + 4 * 0.25
    stretch = ((own + 2 * 0.3 * 0.6) / own) ** 0.5
    assert found is not None
    assert found.low == pytest.approx(15 - stretch * 5**0.5)


def test_a_total_is_never_below_nothing() -> None:
    """Two inks that may each take nothing, moved together: they reach down further than their sum."""
    fits = {ink: _fit(ink, Interval(1.0, 0.0, 9.0), 4.0) for ink in ("cyan", "grey")}
    influences = {ink: np.full((3, 2), 5.0) for ink in fits}
    found = _total(fits, influences, None, OUT)
    assert found is not None
    assert (found.value, found.low) == (2.0, 0.0)


def test_inks_that_say_nothing_of_it_are_left_out() -> None:
    open_ended = _fit("black", Interval(0.0, 0.0, float("inf")), 1.0)
    nothing = dict.fromkeys((*FITS, "black"), NONE)
    assert _total({"black": open_ended}, nothing, None, OUT) is None
    assert _total({**FITS, "black": open_ended}, nothing, None, OUT) == _total(FITS, nothing, None, OUT)
    assert _total(FITS, nothing, None, ("photo", "matte")) is None


def _fitted(rates: list[float], spread: float) -> tuple[InkLog, InkFit]:
    """Two prints with an exchange between, the run of their levels, and a log of as many events."""
    hand = Hand("cyan")
    for hour in (1, 3):
        hand.print(hour)
    hand.exchange(2)
    hand.clean(9)
    run, fit = _series(exact=True)
    fit = replace(fit, draws=replace(fit.draws, event=np.array([0, 2, 1])), rates=np.array(rates), spread=spread)
    return hand.log(), replace(fit, series=(as_run(run, fit, 0.5, Variation(0.1, 0.3), again=False),))


def _moved_by(fit: InkFit, draw: int, ml: float) -> Floats:
    """What so much more at one draw, and so at every reading after it, does to a generalised least squares estimate."""
    [run] = fit.series
    weight = np.linalg.inv(run.known + fit.spread**2 * run.walk)
    more = np.array([ml if reading >= draw else 0.0 for reading in range(3)])
    return np.asarray(fit.covariance @ run.design.T @ weight @ more)


def test_a_draw_that_takes_more_moves_the_rates_through_every_later_reading() -> None:
    """Prints deviate by a tenth of what they took, the exchange by three tenths; the cleaning drew nothing here."""
    log, fit = _fitted([2.0, 7.0], 0.5)
    moved = influence(log, fit, Variation(0.1, 0.3))
    assert moved.shape == (4, 2)
    assert moved[0] == pytest.approx(_moved_by(fit, 0, 0.1 * 4.0))
    assert moved[2] == pytest.approx(_moved_by(fit, 1, 0.3 * 7.0))
    assert moved[1] == pytest.approx(_moved_by(fit, 2, 0.1 * 6.0))
    assert moved[3].tolist() == [0.0, 0.0]


def test_an_ink_with_nothing_fitted_is_moved_by_nothing() -> None:
    log, fit = _fitted([2.0, 7.0], 0.5)
    assert not influence(log, replace(fit, series=()), Variation(0.1, 0.3)).any()


def test_what_all_inks_share_is_the_sum_of_products_of_their_moves() -> None:
    log, cyan = _fitted([2.0, 7.0], 0.5)
    _, grey = _fitted([1.0, 4.0], 0.2)
    common = Variation(0.1, 0.3)
    found = shared(log, {"cyan": cyan, "grey": grey}, common)
    first, second = (influence(log, fit, common)[:, 1] for fit in (cyan, grey))
    one, other = found.place["cyan", OUT], found.place["grey", OUT]
    assert found.events[one, other] == pytest.approx(float(first @ second))
    assert found.events[one, one] == pytest.approx(float(first @ first))
    assert found.exchanges[one, other] == pytest.approx(float(first[2] * second[2]))
    assert found.exchanges[other, other] == pytest.approx(float(second[2] ** 2))
