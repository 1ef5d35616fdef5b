"""What a change of the log would change in the answers: each figure as it is and as it would be, those that move told."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import date
from typing import NamedTuple

from logbook.records import Changeover, Paper, Printer, Stock
from logbook.records.darkness import stops_text
from logbook.records.text import plain
from logbook.records.units import share_text
from logbook.records.wording import MONTHS, date_text, ink_text, setting_label
from logbook.reports.batch.answer import answer as batch
from logbook.reports.batch.answer import batch_due
from logbook.reports.batch.words import due_text
from logbook.reports.bench import standing
from logbook.reports.darkness.answer import answer as darkness
from logbook.reports.darkness.level_words import level_text
from logbook.reports.ink.changeovers import answer as changeovers
from logbook.reports.month.answer import answer as month_answer
from logbook.reports.shared.amounts import Ended, interval_text, number
from logbook.snapshot import Snapshot
from logbook.snapshot.printer import levels_now, printer_in_use, same_way_twice
from logbook.snapshot.stock import left_text

MOST_TOLD = 3


class Figure(NamedTuple):
    """A figure as it is told: ``value`` in short with its ``unit``, ``whole`` with its interval."""

    value: str
    unit: str = ""
    whole: str = ""


Figures = Mapping[str, Figure]


def figures(log: Snapshot, day: date) -> Figures:
    """What the answers say, by name: how the printer stands, ink, batch, supplies, darkness, and the month of ``day``."""
    parts = (_standing, _ink, _batch, _supplies, _darkness)
    found = {name: figure for part in parts for name, figure in part(log)}
    return found | dict(_month(log, f"{day:%Y-%m}"))


def moves_in_words(before: Figures, after: Figures) -> str:
    """Which figures move, those that matter most at the bench first.

    >>> moves_in_words({"yellow per m²": Figure("0.76", "ml")}, {"yellow per m²": Figure("0.78", "ml")})
    'yellow per m² 0.76 → 0.78 ml; nothing else moves'
    >>> moves_in_words({}, {})
    'no answer moves'
    """
    moved = [name for name in {**after, **before} if before.get(name) != after.get(name)]
    if not moved:
        return "no answer moves"
    moved.sort(key=lambda name: _alike(before.get(name), after.get(name)))
    told = "; ".join(_told(name, before.get(name), after.get(name)) for name in moved[:MOST_TOLD])
    more = len(moved) - MOST_TOLD
    rest = "nothing else moves" if more <= 0 else "one more figure moves" if more == 1 else f"{more} more figures move"
    return f"{told}; {rest}"


def _alike(was: Figure | None, then: Figure | None) -> bool:
    """Whether both are told alike in short, so that only the interval moves."""
    return was is not None and then is not None and (was.value, was.unit) == (then.value, then.unit)


def _told(name: str, was: Figure | None, then: Figure | None) -> str:
    if then is None:
        return f"{name} can no longer be told"
    if was is None:
        return f"{name} {then.value} {then.unit}".rstrip() + " is new"
    if _alike(was, then):
        return f"{name} {was.whole} → {then.whole}"
    old = was.value if was.unit == then.unit else f"{was.value} {was.unit}"
    return f"{name} {old} → {then.value} {then.unit}".rstrip()


def _of(amount: Ended, digits: int, unit: str) -> Figure:
    return Figure(number(amount.value, digits), unit, interval_text(amount, digits, unit))


def _standing(log: Snapshot) -> Iterator[tuple[str, Figure]]:
    now = standing.answer(log)
    if now.loaded is not None:
        yield "loaded", Figure(f"{now.loaded} black")
    for printer in log.all(Printer):
        for one, two in same_way_twice(log.of_printer(Changeover, printer.id)):
            days = f"{date_text(one.at.date(), log.day)} and {date_text(two.at.date(), log.day)}"
            yield f"{one.from_black} to {one.to_black} twice in a row ({days})", Figure("")
    yield "left to print", Figure(f"{now.waiting.matte} matte, {now.waiting.photo} photo")


def _supplies(log: Snapshot) -> Iterator[tuple[str, Figure]]:
    printer = printer_in_use(log)
    for level in levels_now(log, printer) if printer is not None else ():
        if level.percent is not None:
            yield f"level of {ink_text(level.ink)}", Figure(f"{level.percent:g}", "%")
    for stock in log.all(Stock):
        paper, left = log.get(Paper, stock.paper), left_text(log, stock)
        if paper is not None and stock.closed is None and left:
            yield f"left of the {plain(paper.name)} opened {date_text(stock.opened.date(), log.day)}", Figure(left)


def _ink(log: Snapshot) -> Iterator[tuple[str, Figure]]:
    told = changeovers(log)
    for rate in told.ml_per_m2:
        yield f"{ink_text(rate.ink)} per m²", _of(rate, 2, "ml")
    for way in told.directions:
        if way.ink_ml is not None:
            yield f"a changeover from {way.from_black} to {way.to_black}", _of(way.ink_ml, 0, "ml")
        yield f"changeovers from {way.from_black} to {way.to_black}", Figure(str(way.count))
    for daily in told.ml_per_day:
        yield f"{ink_text(daily.ink)} drawn a day", _of(daily, 2, "ml")
    if told.share_of_ink is not None:
        yield "share of ink for changeovers", Figure(share_text(told.share_of_ink))
    for one in told.account:
        for where in ("used", "prints", "changeovers", "cleanings", "idle", "unlogged", "unexplained"):
            yield f"{ink_text(one.ink)} {where}", Figure(number(getattr(one, f"{where}_ml"), 0), "ml")
    for change in told.history:
        if change.measured_ml is not None:
            yield (
                f"drawn by the changeover of {date_text(change.at.date(), log.day)}",
                Figure(number(change.measured_ml, 0), "ml"),
            )


def _batch(log: Snapshot) -> Iterator[tuple[str, Figure]]:
    due = batch_due(log)
    if due is not None:
        yield "verdict", Figure(due_text(due))
        told = batch(log)
        yield "cost of the plan", Figure(number(told.cost.total))
        yield "break-even", Figure(f"{told.break_even_prints} prints" if told.break_even_prints is not None else "never")


def _darkness(log: Snapshot) -> Iterator[tuple[str, Figure]]:
    told = darkness(log)
    yield "prints judged", Figure(str(told.prints_judged))
    if told.average_stops is not None:
        average = told.average_stops
        yield "darkness", Figure(stops_text(average.value), "stops", interval_text(average, signed=True))
    for one in told.contrasts:
        level, against = (level_text(told.names, one.setting, which) for which in (one.level, one.against))
        whole = interval_text(one.stops, signed=True)
        yield f"{setting_label(one.setting)} {level} instead of {against}", Figure(stops_text(one.stops.value), "stops", whole)


def _month(log: Snapshot, month: str) -> Iterator[tuple[str, Figure]]:
    told, called = month_answer(log, month=month), MONTHS[int(month[5:]) - 1]
    yield f"prints of {called}", Figure(str(told.prints))
    yield f"keepers of {called}", Figure(str(told.keepers))
    yield f"redo and scrap of {called}", Figure(str(told.redo + told.scrap))
    yield f"paper of {called}", Figure(number(told.paper_m2), "m²")
    for name, money in (("cost", told.cost.total), ("a keeper's cost", told.cost_per_keeper), ("income", told.income)):
        if money is not None:
            yield f"{name} in {called}", Figure(number(money))
