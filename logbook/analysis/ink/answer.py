"""Ink: a mass balance over the life of every cartridge.

A reading r of an ink on a cartridge of V ml is r = start - (100 / V) * (sum of a_black * area + c * cleanings + e * days +
sum of w_d * changeovers_d) + error. Errors are the gauge's rounding and what varies from print to print, which accumulates.
The readings of each ink are weighed by generalised least squares; then all rates of all inks, none below 0, are drawn
together from what these leave possible.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from logbook.analysis.ink.draws import AREA, IDLE, Timeline, draws_on, noted_per_m2, timeline
from logbook.analysis.ink.exchanges import exchange_spread
from logbook.analysis.ink.fit import InkFit, Variation, first_fits, fit_again, fit_steady, print_factor, steady
from logbook.analysis.ink.joint import Joint, interval_of, joint
from logbook.analysis.ink.log import Floats, InkLog, black_of
from logbook.analysis.ink.losses import cut_at_losses
from logbook.analysis.ink.noted import Beyond, beyond_noted
from logbook.analysis.ink.readings import stretches
from logbook.analysis.ink.variation import variation
from logbook.analysis.numeric.interval import Interval

__all__ = ["InkUse", "fit_inks"]

#: A rate that no reading touches.
UNTOLD = Interval(0.0, 0.0, float("inf"))


@dataclass(frozen=True)
class InkUse:
    """The fits of all inks of a printer, in its own order, how prints and changeovers vary in common, and all rates drawn.

    ``beyond`` is how much more the gauge saw go than the ink noted with prints, None where none is noted.
    """

    log: InkLog
    line: Timeline
    fits: dict[str, InkFit]
    variation: Variation
    together: Joint
    beyond: Beyond | None

    def total(self, direction: tuple[str, str], worth: Mapping[str, float] | None = None) -> Interval | None:
        """ml that one changeover takes of all inks together; with ``worth`` per ml by ink, its money instead.

        Inks that the readings do not touch, or that have no worth, are left out; None where none is left.
        """
        known = [
            (1.0 if worth is None else worth[ink]) * drawn
            for ink in self.fits
            if (drawn := self.together.of(ink, direction)) is not None and (worth is None or ink in worth)
        ]
        return interval_of(np.sum(known, axis=0)) if known else None

    def per_m2(self, ink: str) -> Interval | None:
        """ml that a square metre of what was printed takes of an ink, whichever black it used; None where untold."""
        fit = self.fits[ink]
        told = [(share, self.together.of(ink, column)) for share, column in zip(fit.area_shares, fit.draws.columns, strict=True)]
        known = [share * drawn for share, drawn in told if share > 0.0 and drawn is not None]
        return interval_of(np.sum(known, axis=0)) if known else None

    def by_itself(self) -> Interval | None:
        """ml a day that the printer draws by itself of all inks it has in its lines; None where no reading tells.

        Of the two blacks that share a slot only one is in.
        """
        known = {ink: drawn for ink in self.fits if (drawn := self.together.of(ink, IDLE)) is not None}
        colours = [drawn for ink, drawn in known.items() if black_of(ink) is None or not self.log.shared_black_slot]
        blacks = [drawn for ink, drawn in known.items() if black_of(ink) is not None and self.log.shared_black_slot]
        together = [*colours, *([np.mean(blacks, axis=0)] if blacks else [])]
        return interval_of(np.sum(together, axis=0)) if together else None


def fit_inks(log: InkLog) -> InkUse:
    """Estimate what a square metre, a cleaning, a day and each direction of changeover take of every ink of a printer.

    The first fits, with independent errors, tell how much is drawn between readings, where ink went that nothing in
    the log accounts for, and how changeovers vary.
    """
    line = timeline(log)
    levels = {}
    for ink in log.inks:
        draws = draws_on(log, line, ink)
        levels[ink] = (draws, *stretches(log, line, draws))
    first = cut_at_losses(first_fits(levels, log.step_percent), log.step_percent)
    missing = log.unlogged.per_logged if log.unlogged is not None else 0.0
    common = variation(first, log.step_percent, missing)
    # Once more: with rounding shared, less of it is mistaken for differences between prints.
    common = variation(fit_again(first, log.step_percent, common), log.step_percent, missing)
    # From the first rates again: rates already fitted to the gauge's steps would follow them even closer.
    fits = steady(_without_series(first), log.step_percent, common)
    del first
    likely = exchange_spread(log, fits, common.prints)
    common = replace(common, exchanges=likely.usual, likely=likely)
    fits = fit_steady(fits, common)
    common = replace(common, print_factor=print_factor(fits, common))
    return _told(log, line, fits, common)


def _told(log: InkLog, line: Timeline, fits: Mapping[str, InkFit], common: Variation) -> InkUse:
    """The fits with the rates that all inks together tell, prints by what is known of unlogged sheets and of noted ink."""
    together = joint(log, fits, common)
    if log.content is not None:  # a percent of the gauge is so many ml, but for what is not known of it
        together = together.scaled([column for _, column in together.columns], log.content.drawn(len(together.drawn)))
    beyond = beyond_noted(log, fits, together)
    together = together.scaled(tuple(AREA.values()), _prints_alone(log, together, beyond))
    told = {ink: _rated(fit, together) for ink, fit in fits.items()}
    noted = {AREA[black]: per_m2 / _whole(told, black) for black, per_m2 in noted_per_m2(log).items() if _whole(told, black)}
    more = beyond.times.value if beyond is not None else 1.0
    return InkUse(log, line, {ink: replace(fit, beyond=more, noted=noted) for ink, fit in told.items()}, common, together, beyond)


def _prints_alone(log: InkLog, together: Joint, beyond: Beyond | None) -> Floats:
    """What the rates of prints are to be multiplied with (n,): the share of unlogged sheets is not known exactly."""
    count = len(together.drawn)
    share = np.ones(count)
    if log.unlogged is not None:
        share = (1.0 - log.unlogged.drawn(count)) / (1.0 - log.unlogged.share.value)
    return np.asarray(share / (beyond.drawn if beyond is not None else 1.0))


def _whole(fits: Mapping[str, InkFit], black: str) -> float:
    """ml per m² of all inks that prints with a black use."""
    return sum(fit.rate(AREA[black]) for ink, fit in fits.items() if black_of(ink) in (None, black))


def _rated(fit: InkFit, together: Joint) -> InkFit:
    drawn = [together.of(fit.draws.ink, column) for column in fit.draws.columns]
    intervals = tuple(UNTOLD if one is None else interval_of(one) for one in drawn)
    return replace(fit, rates=np.array([one.value for one in intervals]), intervals=intervals, series=(), white=None)


def _without_series(fits: Mapping[str, InkFit]) -> dict[str, InkFit]:
    """The fits without their data, which grow with the square of the readings and are no longer needed."""
    return {ink: replace(fit, series=(), white=None) for ink, fit in fits.items()}
