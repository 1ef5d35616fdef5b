"""What weighed cartridges give, and what that makes of every millilitre."""

from __future__ import annotations

from dataclasses import replace

import pytest

from logbook.analysis.ink.answer import fit_inks
from logbook.analysis.ink.content import Weighed, content_told
from tests.analysis.ink.hand import MATTE, Hand, rate


def _gave(*shares: float, step: float = 3.5) -> list[Weighed]:
    return [Weighed(350.0 * share, 350.0, step) for share in shares]


def test_one_weighed_cartridge_is_believed_to_a_few_percent() -> None:
    """Alike 2 %, each 2 % and a step of 1 % at either end: 1.6449 * sqrt(0.0004 + 0.0004 + 0.0001 / 6) is 4.7 %."""
    found = content_told(_gave(0.9))
    assert found is not None
    assert found.times.value == pytest.approx(0.9)
    assert found.times.width / 2 == pytest.approx(0.9 * 0.0470, abs=1e-4)
    assert content_told([]) is None


def test_many_tell_more_but_what_they_have_in_common_stays() -> None:
    one, many = content_told(_gave(0.9)), content_told(_gave(*[0.9] * 20))
    apart = content_told(_gave(0.8, 0.9, 1.0))
    assert one is not None and many is not None and apart is not None
    assert 0.6 * one.times.width < many.times.width < one.times.width < apart.times.width


def test_every_rate_is_as_unsure_as_the_content() -> None:
    """Levels typed exactly: beside what is not known of the cartridge nothing is unsure."""
    hand = Hand("cyan")
    hand.cartridge("cyan")
    for day in range(20):
        hand.print(24 * day + 9, 1.0 + day % 3)
        hand.read(24 * day + 10, cyan=round(100.0 - 2.0 * sum(1.0 + n % 3 for n in range(day + 1)), 6))
    log = hand.log()
    known = fit_inks(log).fits["cyan"].interval(MATTE)
    unsure = fit_inks(replace(log, content=content_told(_gave(0.9))))
    found = unsure.fits["cyan"].interval(MATTE)
    assert known is not None and found is not None
    assert rate(unsure, "cyan", MATTE) == pytest.approx(2.0, rel=0.01)
    assert found.width / 2 == pytest.approx(2.0 * 0.047, rel=0.15)
    assert known.width < found.width / 3
