"""The log's ink records as the columns that the ink analysis works on."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Protocol, TypeVar

import numpy as np

from logbook.analysis.ink.content import Content, Weighed, content_told
from logbook.analysis.ink.log import CartridgeUse, CleaningDone, Exchange, InkLog, Reading
from logbook.records import Cartridge, Changeover, Cleaning, Gauge, Paper, Printer
from logbook.reports.ink.sheets import unlogged_sheets
from logbook.snapshot import Snapshot

__all__ = ["ink_log", "price_per_ml", "within"]


class _Timed(Protocol):
    @property
    def at(self) -> dt.datetime: ...


Timed = TypeVar("Timed", bound=_Timed)


def ink_log(log: Snapshot, printer: Printer, since: dt.date | None = None, until: dt.date | None = None) -> InkLog:
    """Everything about one printer's inks; only readings of the days ``since`` to ``until`` count.

    A cartridge that was put in before ``since`` then counts from its first reading; so does the one that was in
    already when the log began, which nobody logged: its volume is the printer's own figure. Volumes are what cartridges
    really give, where some were weighed.
    """
    prints = log.prints(until=until, printer=printer.id)
    blacks = {paper.id: paper.black for paper in log.all(Paper)}
    black = np.array([blacks.get(paper) for paper in prints.paper], dtype=object)
    changeovers = log.of_printer(Changeover, printer.id)
    cleanings = log.of_printer(Cleaning, printer.id)
    readings = tuple(
        Reading(gauge.id, gauge.at.timestamp(), gauge.levels) for gauge in within(log.of_printer(Gauge, printer.id), since, until)
    )
    logged = tuple(_cartridges(log, printer, since, until))
    content = _content(log, printer)
    times = 1.0 if content is None else content.times.value
    cartridges = (replace(one, nominal_ml=times * one.nominal_ml) for one in (*_in_already(printer, logged, readings), *logged))
    return InkLog(
        inks=printer.ink_names,
        step_percent=printer.gauge_step_percent,
        print_at=prints.at,
        print_m2=prints.area_m2,
        print_black=black,
        cartridges=tuple(cartridges),
        readings=readings,
        exchanges=tuple(_exchange(one) for one in within(changeovers, None, until)),
        cleanings=tuple(CleaningDone(one.at.timestamp(), one.strength) for one in within(cleanings, None, until)),
        shared_black_slot=printer.shared_black_slot,
        black_at_start=printer.black_at_start,
        print_ml=prints.ink_ml,
        unlogged=unlogged_sheets(log, printer.id, until),
        content=content,
    )


def within(records: Iterable[Timed], since: dt.date | None, until: dt.date | None) -> list[Timed]:
    """The records of the days ``since`` to ``until``, both included, by the date written in their time."""
    return [one for one in records if (since is None or one.at.date() >= since) and (until is None or one.at.date() <= until)]


def price_per_ml(log: Snapshot, printer: Printer) -> dict[str, float]:
    """Price of one ml by ink: the newest priced cartridge's, else the printer's own; inks without either are left out.

    What stays in an emptied cartridge is paid for as well.
    """
    content = _content(log, printer)
    times = 1.0 if content is None else content.times.value
    prices = {ink.ink: ink.price / ink.nominal_ml for ink in printer.inks if ink.price is not None}
    for cartridge in log.of_printer(Cartridge, printer.id):
        if cartridge.price is not None:
            prices[cartridge.ink] = cartridge.price / cartridge.nominal_ml
    return {ink: price / times for ink, price in prices.items()}


def _content(log: Snapshot, printer: Printer) -> Content | None:
    """What the printer's cartridges really give, by those of which somebody found out what was left in them."""
    weighed = []
    for one in log.of_printer(Cartridge, printer.id):
        if one.left_ml is None or one.end_percent is None:
            continue
        said = one.nominal_ml * (one.start_percent - one.end_percent) / 100
        drawn = one.nominal_ml * one.start_percent / 100 - one.left_ml
        if said > 0 and drawn > 0:
            weighed.append(Weighed(drawn, said, one.nominal_ml * printer.gauge_step_percent / 100))
    return content_told(weighed)


def _cartridges(log: Snapshot, printer: Printer, since: dt.date | None, until: dt.date | None) -> Iterable[CartridgeUse]:
    for one in log.of_printer(Cartridge, printer.id):
        if until is not None and one.installed.date() > until:
            continue
        counts = since is None or one.installed.date() >= since
        yield CartridgeUse(
            one.id,
            one.ink,
            one.installed.timestamp(),
            one.nominal_ml,
            one.removed.timestamp() if one.removed is not None else None,
            one.start_percent if counts else None,
        )


def _in_already(printer: Printer, logged: Sequence[CartridgeUse], readings: Sequence[Reading]) -> Iterator[CartridgeUse]:
    """A cartridge for each ink that was read before the first one of it was logged."""
    for ink in printer.inks:
        read = min((one.at for one in readings if ink.ink in one.levels), default=None)
        first = min((one.installed for one in logged if one.ink == ink.ink), default=None)
        if read is not None and (first is None or read < first):
            # No record's id holds a control character.
            yield CartridgeUse(f"\0{ink.ink}", ink.ink, read, ink.nominal_ml, None, None)


def _exchange(one: Changeover) -> Exchange:
    return Exchange(one.id, one.at.timestamp(), one.from_black, one.to_black, one.before, one.after, one.minutes, one.cleanings)
