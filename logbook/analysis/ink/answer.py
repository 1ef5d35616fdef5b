"""Ink: a mass balance over the life of every cartridge.

A reading r of an ink on a cartridge of V ml is r = start - (100 / V) * (a * area + c * cleanings + sum of w_d *
changeovers_d) + error. Errors are the gauge's rounding and what varies from print to print, which accumulates. All
rates of an ink are estimated together by generalised least squares with rates that can't be below 0.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from logbook.analysis.ink.draws import Timeline, draws_on, timeline
from logbook.analysis.ink.exchanges import exchange_spread
from logbook.analysis.ink.fit import InkFit, Variation, first_fits, fit_again, fit_steady, steady
from logbook.analysis.ink.log import InkLog
from logbook.analysis.ink.losses import cut_at_losses
from logbook.analysis.ink.readings import stretches
from logbook.analysis.ink.totals import Shared, direction_total, shared, widened
from logbook.analysis.ink.variation import variation
from logbook.analysis.numeric.interval import Interval

__all__ = ["InkUse", "fit_inks"]


@dataclass(frozen=True)
class InkUse:
    """The fits of all inks of a printer, in the printer's order, and how prints and exchanges vary in common."""

    log: InkLog
    line: Timeline
    fits: dict[str, InkFit]
    variation: Variation
    shared: Shared

    def total(self, direction: tuple[str, str], worth: dict[str, float] | None = None) -> Interval | None:
        """ml that one exchange takes of all inks together; with ``worth`` per ml by ink, its money instead.

        Inks that the readings do not touch, or that have no worth, are left out; None where none is left.
        """
        return direction_total(self.fits, self.shared, self.variation, direction, worth)


def fit_inks(log: InkLog) -> InkUse:
    """Estimate what a square metre, a cleaning and each direction of exchange take of every ink of a printer.

    The first fits, with independent errors, tell how much is drawn between readings, where ink went that nothing in
    the log accounts for, and how exchanges vary.
    """
    line = timeline(log)
    levels = {}
    for ink in log.inks:
        draws = draws_on(log, line, ink)
        levels[ink] = (draws, *stretches(log, line, draws))
    first = cut_at_losses(first_fits(levels, log.step_percent), log.step_percent)
    common = variation(first, log.step_percent)
    # Once more: with rounding shared, less of it passes for prints that differ.
    common = variation(fit_again(first, log.step_percent, common), log.step_percent)
    # From the first rates again: those that followed the gauge's steps once would follow them closer still.
    fits = steady(_without_series(first), log.step_percent, common)
    del first
    likely = exchange_spread(log, fits, common.prints)
    common = replace(common, exchanges=likely.usual, likely=likely)
    fits = fit_steady(fits, common)
    moves = shared(log, fits, common)
    return InkUse(log, line, _without_series(widened(fits, moves, common)), common, moves)


def _without_series(fits: Mapping[str, InkFit]) -> dict[str, InkFit]:
    """The fits alone: what was fitted is as large as its readings squared, and is let go where it is needed no more."""
    return {ink: replace(fit, series=()) for ink, fit in fits.items()}
