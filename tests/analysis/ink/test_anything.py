"""Whatever is logged, in whatever order, there is an answer: it closes, and says nothing that cannot be."""

from __future__ import annotations

import math

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from logbook.analysis.ink.account import account, account_by_month, measured_ml
from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.forecast import level_now, weekly_ml
from tests.analysis.ink.hand import HOUR, Hand

INKS = ("matte_black", "photo_black", "cyan")
HOURS = st.integers(0, 400).map(float)
LEVELS = st.dictionaries(st.sampled_from(INKS), st.integers(0, 100).map(float), max_size=3)
EVENTS = st.one_of(
    st.tuples(st.just("print"), HOURS, st.sampled_from([0.01, 0.2, 1.0]), st.sampled_from(["matte", "photo"])),
    st.tuples(st.just("read"), HOURS, LEVELS),
    st.tuples(st.just("clean"), HOURS, st.sampled_from([None, "light", "deep"])),
    st.tuples(st.just("cartridge"), HOURS, st.sampled_from(INKS), st.sampled_from([None, 0.0, 40.0, 100.0])),
    st.tuples(st.just("exchange"), HOURS, st.sampled_from(["matte", "photo"]), st.integers(0, 9), st.integers(0, 9)),
)


def built(events: list[tuple[object, ...]], step: float) -> Hand:
    """The log of these events."""
    hand = Hand(*INKS, step=step)
    for kind, hour, *rest in events:
        if kind == "print":
            hand.print(hour, *rest)  # type: ignore[arg-type]
        elif kind == "read":
            hand.read(hour, **rest[0])  # type: ignore[arg-type]
        elif kind == "clean":
            hand.clean(hour, *rest)  # type: ignore[arg-type]
        elif kind == "cartridge":
            hand.cartridge(rest[0], hour, start=rest[1])  # type: ignore[arg-type]
        else:
            hand.exchange(hour, rest[0], before=f"read-{rest[1]}", after=f"read-{rest[2]}")  # type: ignore[arg-type]
    return hand


@settings(max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(st.lists(EVENTS, max_size=30), st.sampled_from([0.1, 1.0, 5.0, 25.0]))
def test_there_is_always_an_answer_that_closes(events: list[tuple[object, ...]], step: float) -> None:
    log = built(events, step).log()
    use = fit_inks(log)
    months = account_by_month(use.fits)
    for name in ("used", "prints", "changeovers", "cleanings"):
        whole = sum(getattr(account(fit), name) for fit in use.fits.values())
        assert sum(getattr(month, name) for month in months.values()) == pytest.approx(whole, abs=1e-6)
    for fit in use.fits.values():
        for rate, interval in zip(fit.rates, fit.intervals, strict=True):
            assert 0.0 <= interval.low <= rate <= interval.high
            assert math.isfinite(rate)
        level = level_now(log, fit, 500 * HOUR)
        assert level is None or level.ml >= 0.0
        assert all(week >= 0.0 for week in weekly_ml(fit, 500 * HOUR))
    for place, exchange in enumerate(log.exchanges):
        measured = measured_ml(log, use.fits, place)
        total = use.total(exchange.direction)
        assert measured is None or math.isfinite(measured)
        assert total is None or 0.0 <= total.low <= total.value <= total.high
