"""How far an ink reaches: square metres, prints and days."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.draws import Kind
from logbook.analysis.ink.fit import InkFit
from logbook.analysis.ink.log import Floats, InkLog
from logbook.analysis.numeric.interval import Z90, Interval

__all__ = ["Level", "days_left", "level_now", "square_metres_left", "weekly_ml"]

#: The present pace is that of the last weeks, at most and at least this many.
PACE_WEEKS, LEAST_WEEKS = 13, 3
WEEK_SECONDS = 7 * 86_400.0


@dataclass(frozen=True)
class Level:
    """What a cartridge holds: ``ml`` with its standard deviation, of ``nominal_ml``."""

    ml: float
    sd: float
    nominal_ml: float


def level_now(log: InkLog, fit: InkFit, now: float) -> Level | None:
    """What the cartridge in use holds at ``now`` (Unix s): its last level less what was drawn since; None without one."""
    ink = fit.draws.ink
    own = [cartridge for cartridge in log.cartridges if cartridge.ink == ink and cartridge.installed <= now]
    if not own:
        return None
    scale = own[-1].nominal_ml / 100.0
    read = [one for one in log.readings if own[-1].installed <= one.at <= now and ink in one.levels]
    at, percent = (read[-1].at, read[-1].levels[ink]) if read else (own[-1].installed, own[-1].start_percent)
    if percent is None:
        return None
    since = (fit.draws.at > at) & (fit.draws.at <= now)
    printed = since & np.isin(fit.draws.kind, (Kind.PRINTS, Kind.UNLOGGED))
    drawn = float(np.sum(gone_ml(fit)[since]))
    wandered = fit.spread**2 * float(np.sum(fit.draws.amount[printed] ** 2))
    rounding = (scale * log.step_percent) ** 2 / 12.0 if read else 0.0
    return Level(max(0.0, scale * percent - drawn), math.sqrt(rounding + wandered), own[-1].nominal_ml)


def gone_ml(fit: InkFit) -> Floats:
    """Expected ml that the gauge sees go at each draw (n,), with what goes beyond the ink noted with prints."""
    printed = np.isin(fit.draws.kind, (Kind.PRINTS, Kind.UNLOGGED))
    return np.asarray(fit.drawn_ml * np.where(printed, fit.beyond, 1.0))


def square_metres_left(level: Level, rate: Interval) -> Interval | None:
    """Square metres of image that a level is good for at a rate in ml per m²; None where the rate may be nothing.

    The relative errors of both add up in squares, on a logarithmic scale.

    >>> square_metres_left(Level(30.0, 0.0, 300.0), Interval(1.5, 1.5, 1.5))
    Interval(value=20.0, low=20.0, high=20.0)
    """
    if rate.value <= 0.0 or rate.low <= 0.0:
        return None
    if level.ml <= 0.0:
        return Interval(0.0, 0.0, 0.0)
    value = level.ml / rate.value
    unsure = (Z90 * level.sd / level.ml) ** 2
    low = math.exp(-math.sqrt(unsure + math.log(rate.high / rate.value) ** 2))
    high = math.exp(math.sqrt(unsure + math.log(rate.value / rate.low) ** 2))
    return Interval(value, value * low, value * high)


def weekly_ml(fit: InkFit, now: float) -> Floats:
    """Expected ml drawn in each of the last weeks before ``now``, oldest first, as many as the log covers (up to 13)."""
    earlier = fit.draws.at[fit.draws.at <= now]
    if not len(earlier):
        return np.zeros(0)
    weeks = min(PACE_WEEKS, int((now - earlier[0]) // WEEK_SECONDS))
    edges = now - WEEK_SECONDS * np.arange(weeks, -1, -1)
    drawn = gone_ml(fit)
    return np.histogram(fit.draws.at, edges, weights=drawn)[0] if weeks else np.zeros(0)


def days_left(level: Level, weeks: Floats) -> Interval | None:
    """Days until a level is gone at the pace of the last weeks; None where these are too few, or drew nothing.

    What is drawn in a week varies as it did: first passage of a random walk with drift (mean L / m, variance
    L v / m^3; Chhikara and Folks, The Inverse Gaussian Distribution, 1989, ch. 2), the mean pace m known from so
    many weeks, on a logarithmic scale.

    >>> days_left(Level(20.0, 0.0, 300.0), np.full(10, 2.0))
    Interval(value=70.0, low=70.0, high=70.0)
    """
    if len(weeks) < LEAST_WEEKS or not np.mean(weeks) > 0.0:
        return None
    pace, variance = float(np.mean(weeks)), float(np.var(weeks, ddof=1))
    left = level.ml / pace
    if left <= 0.0:
        return Interval(0.0, 0.0, 0.0)
    relative = variance / (pace**2 * left) + variance / (len(weeks) * pace**2) + (level.sd / level.ml) ** 2
    reach = math.exp(Z90 * math.sqrt(math.log1p(relative)))
    return Interval(7 * left, 7 * left / reach, 7 * left * reach)
