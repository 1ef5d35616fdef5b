"""Changeovers of the past, each judged by the verdict of its own morning."""

from __future__ import annotations

import datetime as dt

from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.plan import plan_batches
from logbook.analysis.batch.rule import StandingRule
from logbook.analysis.batch.verdict import because_of
from logbook.records import Changeover, Printer
from logbook.reports.batch.basis import terms_of
from logbook.reports.batch.model import Basis, Exchanged
from logbook.reports.batch.orders import as_planned
from logbook.snapshot import Snapshot
from logbook.snapshot.away import times_away
from logbook.snapshot.orders import OrderLeft, orders_left, waiting
from logbook.snapshot.past import as_of

__all__ = ["history_of"]


def history_of(
    log: Snapshot, printer: Printer | None, basis: Basis, rule: StandingRule | None, since: dt.date
) -> tuple[Exchanged, ...]:
    """The changeovers from that day on, in time order: what waited, and whether a date or the rule asked for it then.

    Bench times, costs and attempts are today's; what was open, and which black was loaded, is as it was.
    """
    if printer is None:
        return ()
    changeovers = [one for one in log.of_printer(Changeover, printer.id) if since <= one.at.date() <= log.day]
    return tuple(_judged(log, one, orders_left(as_of(log, one.at)), basis, rule) for one in changeovers)


def _judged(log: Snapshot, changeover: Changeover, known: list[OrderLeft], basis: Basis, rule: StandingRule | None) -> Exchanged:
    loaded, day, there = changeover.from_black, changeover.at.date(), waiting(known)
    orders = [as_planned(one, basis) for one in known]
    # The day of the changeover was a bench day, whatever its weekday.
    days = [day, *_after(log, basis, day)]
    plan = plan_batches(orders, loaded, terms_of(basis, begun=False), day, days)
    because = because_of(plan, rule is not None and rule.says_exchange(loaded, there.matte, there.photo), day)
    return Exchanged(
        id=changeover.id,
        at=changeover.at,
        to=changeover.to_black,
        waiting=there,
        verdict="due" if because else "wait",
        because=because,
        exchange_on=plan.exchange_on,
        rule_from=rule.least_to_exchange(loaded, there.of(loaded)) if rule is not None else None,
    )


def _after(log: Snapshot, basis: Basis, day: dt.date) -> list[dt.date]:
    """Bench days after a day: as many as a plan may want."""
    following = bench_days(day + dt.timedelta(days=1), basis.weekdays, times_away(log))
    return [one for one, _ in zip(following, range(300), strict=False)]
