"""What the ink answers tell the others: rates, prices and the forecast of one printer's inks."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.analysis.numeric.interval import Interval
from logbook.store import Store

__all__ = ["DateInterval", "InkForecast", "changeover_cost", "forecast", "ink_prices", "ink_rates"]


class DateInterval(msgspec.Struct, frozen=True):
    """A day with the two ends of its central 90 % interval."""

    value: dt.date
    low: dt.date
    high: dt.date


class InkForecast(msgspec.Struct, frozen=True, kw_only=True):
    """How far one ink reaches: None where the log does not tell.

    ``missed`` holds the ids of the open orders that the ink would not reach, in their sequence.
    """

    ink: str
    level_percent: float
    level_ml: float
    m2_left: Interval | None
    prints_left: Interval | None
    runs_out: DateInterval | None
    missed: tuple[str, ...]


def changeover_cost(store: Store, printer: str) -> dict[tuple[str, str], Interval]:
    """Money that one changeover wastes in ink, by (from, to); a direction the log can't price is left out."""
    raise NotImplementedError


def ink_rates(store: Store, printer: str) -> dict[str, Interval]:
    """Ink that a square metre of image takes, in ml per m², by ink; inks without readings are left out."""
    raise NotImplementedError


def ink_prices(store: Store, printer: str) -> dict[str, float]:
    """Price of one ml, by ink: the newest priced cartridge's, else the printer's; unpriced inks are left out."""
    raise NotImplementedError


def forecast(store: Store, printer: str, *, today: dt.date) -> tuple[InkForecast, ...]:
    """How far each ink of a printer reaches at the present rate and pace, in the printer's own order of inks."""
    raise NotImplementedError
