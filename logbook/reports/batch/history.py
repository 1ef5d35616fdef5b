"""Changeovers of the past beside the standing rule: what waited then, and what the rule would have done."""

from __future__ import annotations

import datetime as dt

from logbook.analysis.batch.bench_days import is_bench_day
from logbook.analysis.batch.replay import Day, changeovers_of_rule
from logbook.analysis.batch.rule import StandingRule, standing_rule
from logbook.records import Changeover, Order, Printer
from logbook.records.fields import Black
from logbook.reports.batch.basis import basis_of, black_of_papers, flow_of
from logbook.reports.batch.model import Basis, Exchanged
from logbook.snapshot import Snapshot, answered
from logbook.snapshot.away import times_away
from logbook.snapshot.orders import Waiting, orders_left, waiting
from logbook.snapshot.past import as_of
from logbook.snapshot.printer import loaded_black, printer_meant

__all__ = ["history_of", "rule_changeovers"]


def history_of(log: Snapshot, printer: Printer | None, rule: StandingRule | None, since: dt.date) -> tuple[Exchanged, ...]:
    """The changeovers from that day on, in time order, each with the prints that were on order and not yet made."""
    if printer is None:
        return ()
    changeovers = [one for one in log.of_printer(Changeover, printer.id) if since <= one.at.date() <= log.day]
    return tuple(_exchanged(one, waiting(orders_left(as_of(log, one.at))), rule) for one in changeovers)


def _exchanged(changeover: Changeover, there: Waiting, rule: StandingRule | None) -> Exchanged:
    loaded = changeover.from_black
    least = rule.least_to_exchange(loaded, there.of(loaded)) if rule is not None else None
    says = rule.says_exchange(loaded, there.matte, there.photo) if rule is not None else None
    return Exchanged(
        id=changeover.id,
        at=changeover.at,
        to=changeover.to_black,
        waiting=there,
        rule_from=least,
        rule=None if says is None else "exchange" if says else "stay",
    )


@answered
def rule_changeovers(log: Snapshot, since: dt.date, printer: str | None = None) -> int | None:
    """How often the standing rule would have exchanged the black for the prints made from ``since`` on.

    A print with an order waits from the day the order was taken, any other from the day it was made. None where there
    is no rule.
    """
    known = printer_meant(log, printer)
    if known is None or not known.shared_black_slot:
        return None
    basis = basis_of(log, known)
    flow = flow_of(basis)
    rule = standing_rule(flow) if flow is not None else None
    if rule is None or flow is None:
        return None
    days = _days_of(log, known, basis, since)
    start = dt.datetime.combine(since, dt.time.min).astimezone()
    return changeovers_of_rule(rule, flow, loaded_black(log, known, start), days)


def _days_of(log: Snapshot, printer: Printer, basis: Basis, since: dt.date) -> list[Day]:
    """The bench days, and other days on which prints were made, with the prints that came since the one before."""
    until = log.day
    prints = log.prints(since, until, printer=printer.id)
    blacks, taken = black_of_papers(log), {order.id: order.taken for order in log.all(Order)}
    came: dict[dt.date, dict[Black, int]] = {}
    for paper, order, day in zip(prints.paper, prints.order, prints.day.astype(dt.date), strict=True):
        asked = max(since, min(day, taken.get(order, day)))
        black = blacks[paper]
        came.setdefault(asked, {"matte": 0, "photo": 0})[black] += 1
    used, absent = set(prints.day.astype(dt.date)), times_away(log)
    found, new = [], {"matte": 0, "photo": 0}
    for number in range((until - since).days + 1):
        day = since + dt.timedelta(days=number)
        for black, count in came.get(day, {}).items():
            new[black] += count
        if day in used or is_bench_day(day, basis.weekdays, absent):
            found.append(Day(new["matte"], new["photo"]))
            new = {"matte": 0, "photo": 0}
    return found
