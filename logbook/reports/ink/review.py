"""What the place Ink shows and says: levels and how far they reach, changeovers with their waste, cartridges, where it went."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from logbook.analysis.ink.account import Account, account_by_month
from logbook.analysis.ink.answer import InkUse
from logbook.analysis.numeric.interval import Interval
from logbook.records import Cartridge, Changeover, Printer
from logbook.records.units import share_text
from logbook.records.wording import date_text, ink_text
from logbook.reports.batch import answer as batch
from logbook.reports.ink import changeovers
from logbook.reports.ink.model import ChangeoversAnswer
from logbook.reports.ink.use import InkForecast, forecast, ink_use_of
from logbook.reports.ink.words import hints, wasted
from logbook.snapshot import Snapshot, answered
from logbook.snapshot.printer import InkLevel, levels_now, printer_meant

__all__ = ["CartridgeRow", "ExchangeRow", "InkReview", "LevelRow", "changeover_sentences", "review", "review_sentences"]

#: What the two figures of one changeover are.
MEASURED = (
    "Measured is what the gauge saw this one draw, rounded as the gauge rounds; the estimate is what one of its kind takes, by"
    " all readings together."
)


@dataclass(frozen=True)
class LevelRow:
    """One ink: its last level, whether it is in the lines, how far it reaches, and the planned orders that it does not."""

    level: InkLevel
    reach: InkForecast | None
    missed: tuple[str, ...] = ()


@dataclass(frozen=True)
class ExchangeRow:
    """One changeover: what the gauge saw, what one of its direction takes, and the money; ``cleanings`` as noted."""

    changeover: Changeover
    measured_ml: float | None
    estimated_ml: Interval | None
    cost: Interval | None


@dataclass(frozen=True)
class CartridgeRow:
    """One cartridge: ``used_ml`` up to its last reading, ``days`` in the printer so far."""

    cartridge: Cartridge
    days: int
    used_ml: float | None
    in_printer: bool


@dataclass(frozen=True)
class InkReview:
    """Everything the place shows; ``printer`` is None while none is described."""

    printer: Printer | None
    today: dt.date
    answer: ChangeoversAnswer
    levels: tuple[LevelRow, ...] = ()
    exchanges: tuple[ExchangeRow, ...] = ()
    cartridges: tuple[CartridgeRow, ...] = ()
    months: Mapping[str, Account] | None = None

    @property
    def year(self) -> Account:
        """The account of this calendar year, all inks together."""
        own = [one for month, one in (self.months or {}).items() if month.startswith(str(self.today.year))]
        parts = [
            sum(getattr(one, name) for one in own) for name in ("used", "prints", "changeovers", "cleanings", "idle", "unlogged")
        ]
        return Account(*parts)


@answered
def review(log: Snapshot) -> InkReview:
    """The inks of the printer in use."""
    today = log.day
    printer = printer_meant(log, None)
    answer = changeovers.answer(log, printer=printer.id if printer else None)
    if printer is None:
        return InkReview(None, today, answer)
    use = ink_use_of(log, printer)
    reaches = {one.ink: one for one in forecast(log, printer.id)}
    plan = batch.answer(log, printer=printer.id)
    missed = {one.name: one.orders for one in plan.short if one.what == "ink"}
    return InkReview(
        printer,
        today,
        answer,
        tuple(LevelRow(level, reaches.get(level.ink), missed.get(level.ink, ())) for level in levels_now(log, printer)),
        tuple(_exchanges(log, printer, answer)),
        tuple(_cartridges(log, printer, use, today)),
        account_by_month(use.fits),
    )


def _exchanges(log: Snapshot, printer: Printer, answer: ChangeoversAnswer) -> list[ExchangeRow]:
    """Newest first."""
    told = {(one.from_black, one.to_black): one for one in answer.directions}
    measured = {one.id: one.measured_ml for one in answer.history}
    rows = []
    for one in reversed(log.of_printer(Changeover, printer.id)):
        direction = told.get((one.from_black, one.to_black))
        if one.id in measured and direction is not None:
            rows.append(ExchangeRow(one, measured[one.id], direction.ink_ml, direction.cost))
    return rows


def _cartridges(log: Snapshot, printer: Printer, use: InkUse, today: dt.date) -> list[CartridgeRow]:
    """Those in the printer first, in its own order of inks; then the others, the last removed first."""
    used = {one.cartridge: one.used_ml for fit in use.fits.values() for one in fit.uses}
    known = log.of_printer(Cartridge, printer.id)
    newest = {one.ink: one.id for one in known if one.removed is None}
    rows = []
    for one in known:
        until = one.removed.date() if one.removed is not None else today
        rows.append(CartridgeRow(one, (until - one.installed.date()).days, used.get(one.id), newest.get(one.ink) == one.id))
    order = {ink: place for place, ink in enumerate(printer.ink_names)}
    now = sorted((row for row in rows if row.in_printer), key=lambda row: order.get(row.cartridge.ink, len(order)))
    gone = [row for row in rows if not row.in_printer]
    return [*now, *sorted(gone, key=lambda row: row.cartridge.removed or row.cartridge.installed, reverse=True)]


def review_sentences(review: InkReview) -> list[str]:
    """What a changeover wastes, this year's share, and the ink that runs out first."""
    if review.printer is None:
        return ["Describe the printer on Shelf (7) first; then press r to read its gauge."]
    said = [*wasted(review.answer), *hints(review.answer)]
    first = _first_out(review)
    said += [first] if first else []
    year = review.year
    if year.used > 0.0 and review.answer.directions:
        share = share_text(year.changeovers / year.used)
        said.append(f"About {share} of this year's ink went to changeovers: {year.changeovers:,.0f} of {year.used:,.0f} ml.")
    if not review.answer.gauges:
        said.append("Press r to type the levels that the printer shows, as one row of numbers.")
    return said


def changeover_sentences(review: InkReview) -> list[str]:
    """What a changeover wastes, and what the two figures of each are."""
    return [*wasted(review.answer), *hints(review.answer), MEASURED]


def _first_out(review: InkReview) -> str | None:
    """The ink that runs out first, and the orders that any ink would not reach."""
    out = [(row.reach.runs_out, row) for row in review.levels if row.reach is not None and row.reach.runs_out is not None]
    short = [row for row in review.levels if row.missed]
    if short:
        names = ", ".join(ink_text(row.level.ink) for row in short)
        count = max(len(row.missed) for row in short)
        return f"{names[0].upper()}{names[1:]} may not last the open orders: short for {count} of them."
    if not out:
        return None
    day, first = min(out, key=lambda pair: pair[0].value)
    ends = f"between {date_text(day.low, review.today)} and {date_text(day.high, review.today)}"
    return f"At the present pace {ink_text(first.level.ink)} runs out first, {ends}."
