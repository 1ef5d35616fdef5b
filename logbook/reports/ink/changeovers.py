"""The changeovers answer: how much ink each changeover wastes, and where all the ink went."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import numpy as np

from logbook.analysis.ink.account import account, measured_ml
from logbook.analysis.ink.answer import InkUse
from logbook.analysis.ink.draws import AREA, IDLE
from logbook.analysis.ink.log import black_of
from logbook.records import Changeover, Gauge, Printer
from logbook.reports.ink.columns import price_per_ml, within
from logbook.reports.ink.model import (
    BeyondNoted,
    CartridgesGive,
    ChangeoversAnswer,
    DayRate,
    Direction,
    InkAccount,
    InkDirection,
    InkRate,
    Measured,
    UnloggedSheets,
)
from logbook.reports.ink.use import ink_use_of
from logbook.snapshot import Snapshot, answered
from logbook.snapshot.printer import printer_meant

__all__ = ["answer"]


@answered
def answer(
    log: Snapshot,
    *,
    since: dt.date | None = None,
    until: dt.date | None = None,
    printer: str | None = None,
) -> ChangeoversAnswer:
    """What each changeover wastes, in ml and in money, and the account of every ink.

    Only the days ``since`` to ``until`` count (both included, never past the snapshot's own day). Without ``printer`` it is the
    printer of the last print.
    """
    meant = printer_meant(log, printer)
    if meant is None:
        return ChangeoversAnswer()
    last = min(log.day, until or log.day)
    use = ink_use_of(log, meant, since, last)
    done = within(log.of_printer(Changeover, meant.id), since, last)
    prices = price_per_ml(log, meant)
    accounts = tuple(_account(use, ink) for ink in use.fits if use.fits[ink].uses)
    used = sum(one.used_ml for one in accounts)
    directions = _directions(done)
    return ChangeoversAnswer(
        directions=tuple(_direction(use, prices, done, *direction) for direction in directions),
        inks=tuple(_by_ink(use, directions)),
        account=accounts,
        ml_per_m2=tuple(_per_m2(use)),
        ml_per_day=tuple(_per_day(use)),
        unlogged=_unlogged(use),
        share_of_ink=sum(one.changeovers_ml for one in accounts) / used if used > 0.0 else None,
        history=tuple(_history(use, done)),
        printer=meant.id,
        gauges=len(within(log.of_printer(Gauge, meant.id), since, last)),
        unpriced=tuple(ink for ink in meant.ink_names if ink not in prices),
        unread=_unread(use, meant, directions),
        by_itself=use.by_itself(),
        beyond_noted=None if use.beyond is None else BeyondNoted(times=use.beyond.times, prints=use.beyond.prints),
        cartridges_give=_content(use),
    )


def _directions(done: Sequence[Changeover]) -> list[tuple[str, str]]:
    found = {(one.from_black, one.to_black) for one in done}
    return [direction for direction in (("matte", "photo"), ("photo", "matte")) if direction in found]


def _direction(use: InkUse, prices: dict[str, float], done: Sequence[Changeover], from_black: str, to_black: str) -> Direction:
    own = [one for one in done if (one.from_black, one.to_black) == (from_black, to_black)]
    minutes = [one.minutes for one in own if one.minutes is not None]
    return Direction(
        from_black=from_black,
        to_black=to_black,
        count=len(own),
        ink_ml=use.total((from_black, to_black)),
        cost=use.total((from_black, to_black), prices),
        minutes=float(np.mean(minutes)) if minutes else None,
    )


def _by_ink(use: InkUse, directions: Sequence[tuple[str, str]]) -> list[InkDirection]:
    return [
        InkDirection(ink=ink, from_black=direction[0], to_black=direction[1], ink_ml=rate)
        for direction in directions
        for ink, fit in use.fits.items()
        if (rate := fit.interval(direction)) is not None
    ]


def _account(use: InkUse, ink: str) -> InkAccount:
    found = account(use.fits[ink])
    return InkAccount(
        ink=ink,
        used_ml=found.used,
        prints_ml=found.prints,
        changeovers_ml=found.changeovers,
        cleanings_ml=found.cleanings,
        idle_ml=found.idle,
        unlogged_ml=found.unlogged,
        unexplained_ml=found.unexplained,
    )


def _per_m2(use: InkUse) -> list[InkRate]:
    rates = {ink: use.per_m2(ink) for ink in use.fits}
    return [
        InkRate(
            ink=ink,
            value=rate.value,
            low=rate.low,
            high=rate.high,
            matte=use.fits[ink].interval(AREA["matte"]),
            photo=use.fits[ink].interval(AREA["photo"]),
        )
        for ink, rate in rates.items()
        if rate is not None
    ]


def _per_day(use: InkUse) -> list[DayRate]:
    rates = {ink: fit.interval(IDLE) for ink, fit in use.fits.items()}
    return [DayRate(ink=ink, value=rate.value, low=rate.low, high=rate.high) for ink, rate in rates.items() if rate is not None]


def _unlogged(use: InkUse) -> UnloggedSheets | None:
    found = use.log.unlogged
    if found is None:
        return None
    return UnloggedSheets(share=found.share, told_by=found.source, prints=round(found.missing), of=round(found.made))


def _content(use: InkUse) -> CartridgesGive | None:
    found = use.log.content
    return None if found is None else CartridgesGive(times=found.times, cartridges=found.cartridges)


def _history(use: InkUse, done: Sequence[Changeover]) -> list[Measured]:
    place = {exchange.id: n for n, exchange in enumerate(use.log.exchanges)}
    return [
        Measured(
            id=one.id,
            at=one.at,
            from_black=one.from_black,
            to_black=one.to_black,
            measured_ml=measured_ml(use.log, use.fits, place[one.id]),
        )
        for one in done
    ]


def _unread(use: InkUse, printer: Printer, directions: Sequence[tuple[str, str]]) -> tuple[str, ...]:
    """Inks that a changeover flushes but whose part in it the readings do not tell."""
    return tuple(
        ink
        for ink in printer.ink_names
        if any(black_of(ink) in (None, to) and use.fits[ink].interval((old, to)) is None for old, to in directions)
    )
