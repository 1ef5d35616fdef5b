"""What the place Ink shows: levels and how far they reach, changeovers with their waste, cartridges, where the ink went."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass

from logbook.actions import facts
from logbook.analysis.ink.account import Account, account_by_month
from logbook.analysis.ink.answer import InkUse
from logbook.analysis.numeric.interval import Interval
from logbook.records import Cartridge, Changeover, Printer
from logbook.reports.ink import changeovers
from logbook.reports.ink.columns import price_per_ml, printer_meant
from logbook.reports.ink.model import ChangeoversAnswer
from logbook.reports.ink.use import InkForecast, forecast, ink_use_of
from logbook.reports.shared.remembering import remembered
from logbook.store import Store, reading

__all__ = ["CartridgeRow", "ExchangeRow", "InkReview", "LevelRow", "Saving", "review"]

YEAR = dt.timedelta(days=365)


@dataclass(frozen=True)
class LevelRow:
    """One ink: its last level, whether it is in the lines, and how far it reaches."""

    level: facts.InkLevel
    reach: InkForecast | None


@dataclass(frozen=True)
class ExchangeRow:
    """One exchange: what the gauge saw, what one of its direction takes, and the money; ``cleanings`` as noted."""

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
class Saving:
    """Exchanges of the past twelve months, those the standing rule would have made, and what an exchange takes on average."""

    made: int
    rule: int
    ml: float | None
    money: float | None


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
    saving: Saving | None = None

    @property
    def year(self) -> Account:
        """The account of this calendar year, all inks together."""
        own = [one for month, one in (self.months or {}).items() if month.startswith(str(self.today.year))]
        parts = [sum(getattr(one, name) for one in own) for name in ("used", "prints", "changeovers", "cleanings")]
        return Account(*parts)


@remembered
def review(store: Store, today: dt.date) -> InkReview:
    """The inks of the printer in use as of ``today``."""
    printer = printer_meant(store, None)
    answer = changeovers.answer(store, today=today, printer=printer.id if printer else None)
    if printer is None:
        return InkReview(None, today, answer)
    use = ink_use_of(store, printer, until=today)
    reaches = {one.ink: one for one in forecast(store, printer.id, today=today)}
    return InkReview(
        printer,
        today,
        answer,
        tuple(LevelRow(level, reaches.get(level.ink)) for level in facts.levels_now(store, printer)),
        tuple(_exchanges(store, printer, answer)),
        tuple(_cartridges(store, printer, use, today)),
        account_by_month(use.fits),
        _saving(store, printer, use, answer, today),
    )


def _exchanges(store: Store, printer: Printer, answer: ChangeoversAnswer) -> list[ExchangeRow]:
    """Newest first."""
    told = {(one.from_black, one.to_black): one for one in answer.directions}
    measured = {one.id: one.measured_ml for one in answer.history}
    rows = []
    for one in reversed(reading.where(store, Changeover, "printer", printer.id)):
        direction = told.get((one.from_black, one.to_black))
        if one.id in measured and direction is not None:
            rows.append(ExchangeRow(one, measured[one.id], direction.ink_ml, direction.cost))
    return rows


def _cartridges(store: Store, printer: Printer, use: InkUse, today: dt.date) -> list[CartridgeRow]:
    """Those in the printer first, in its own order of inks; then the others, the last removed first."""
    used = {one.cartridge: one.used_ml for fit in use.fits.values() for one in fit.uses}
    known = reading.where(store, Cartridge, "printer", printer.id)
    newest = {one.ink: one.id for one in known if one.removed is None}
    rows = []
    for one in known:
        until = one.removed.date() if one.removed is not None else today
        rows.append(CartridgeRow(one, (until - one.installed.date()).days, used.get(one.id), newest.get(one.ink) == one.id))
    order = {ink: place for place, ink in enumerate(printer.ink_names)}
    now = sorted((row for row in rows if row.in_printer), key=lambda row: order.get(row.cartridge.ink, len(order)))
    gone = [row for row in rows if not row.in_printer]
    return [*now, *sorted(gone, key=lambda row: row.cartridge.removed or row.cartridge.installed, reverse=True)]


def _saving(store: Store, printer: Printer, use: InkUse, answer: ChangeoversAnswer, today: dt.date) -> Saving | None:
    """None where there is no rule to hold the past year against, or nothing was exchanged in it."""
    from logbook.reports.batch import answer as batch

    since = today - YEAR
    made = [one for one in answer.history if one.at.date() > since]
    rule = batch.rule_changeovers(store, since + dt.timedelta(days=1), today, printer.id) if made else None
    if rule is None:
        return None
    prices = price_per_ml(store, printer)
    directions = [(one.from_black, one.to_black) for one in made]
    ml = [total.value for way in directions if (total := use.total(way)) is not None]
    money = [total.value for way in directions if (total := use.total(way, prices)) is not None]
    return Saving(len(made), rule, sum(ml) / len(ml) if ml else None, sum(money) / len(money) if money else None)
