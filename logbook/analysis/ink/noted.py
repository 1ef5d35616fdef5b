"""Ink noted with prints beside what the gauge saw go: how much more went, and what a print takes then."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.draws import AREA, has_noted_ink, noted_per_m2
from logbook.analysis.ink.fit import USUAL_SPREAD, InkFit
from logbook.analysis.ink.joint import Joint, interval_of
from logbook.analysis.ink.log import Floats, InkLog, black_of
from logbook.analysis.numeric.interval import Interval

__all__ = ["Beyond", "beyond_noted"]

#: What goes beyond the noted ink, as a logarithm, before the log is asked (common practice, no source).
LIKELY = 0.15


@dataclass(frozen=True)
class Beyond:
    """The gauge saw ``times`` what ``prints`` took by the ink noted with them; ``drawn`` (n,) are what it may well be."""

    times: Interval
    prints: int
    drawn: Floats


def beyond_noted(log: InkLog, fits: Mapping[str, InkFit], together: Joint) -> Beyond | None:
    """None where no ink is noted, or the gauge does not tell every ink that such prints use.

    The ink noted with n prints gives a rate that is known to a usual spread / sqrt(n); what the gauge saw go a square metre
    divided by it is normal in its logarithm, and drawn to 0 by what is likely.
    """
    found = [(np.log(one), float(weight)) for one, weight in _ratios(log, fits, together)]
    if not found:
        return None
    weights = np.array([weight for _, weight in found])
    seen = np.average([ratio for ratio, _ in found], axis=0, weights=weights)
    count = int(np.sum(weights))
    noise = np.random.default_rng(count).normal(0.0, USUAL_SPREAD / np.sqrt(count), len(seen))
    pull = LIKELY**2 / (LIKELY**2 + float(np.var(seen)) + USUAL_SPREAD**2 / count)
    drawn = np.exp(pull * (seen + noise))
    return Beyond(interval_of(drawn), count, drawn)


def _ratios(log: InkLog, fits: Mapping[str, InkFit], together: Joint) -> list[tuple[Floats, int]]:
    """ml per m² that went of all inks, over what was noted, as draws, with the number of prints, by black."""
    ratios: list[tuple[Floats, int]] = []
    for black, noted in noted_per_m2(log).items():
        rates = [together.of(ink, AREA[black]) for ink in fits if black_of(ink) in (None, black)]
        known = [rate for rate in rates if rate is not None]
        if known and len(known) == len(rates):
            ratios.append((np.sum(known, axis=0) / noted, int(np.sum(has_noted_ink(log) & (log.print_black == black)))))
    return ratios
