"""Is a matte or a gloss batch due: the plan, what other days would cost, and the standing rule."""

from __future__ import annotations

import datetime as dt

import msgspec

from logbook.analysis.batch.entries import Entry
from logbook.analysis.batch.plan import BatchPlan, plan_batches
from logbook.analysis.batch.rule import CURVE_TO, Flow, StandingRule, standing_rule
from logbook.records.fields import Black
from logbook.reports.batch.basis import basis_of, days_ahead, flow_of, terms_of
from logbook.reports.batch.history import history_of, rule_changeovers
from logbook.reports.batch.model import (
    Basis,
    BatchAnswer,
    Changes,
    Cost,
    FirstExchange,
    Otherwise,
    PlanEntry,
    Rule,
    Verdict,
)
from logbook.reports.batch.notes import notes_of
from logbook.reports.batch.orders import as_planned, lines, orders_supposed
from logbook.reports.batch.short import short_of
from logbook.reports.batch.words import short_verdict
from logbook.snapshot import Snapshot, answered
from logbook.snapshot.orders import OrderLeft, Waiting, waiting
from logbook.snapshot.printer import loaded_black, printer_meant

__all__ = ["BatchAnswer", "Changes", "VerdictLine", "answer", "rule_changeovers", "verdict_line"]

HISTORY_DAYS = 182
# Below this load the standing rule takes a fraction of a second.
QUICK_LOAD = 0.9
NO_RULE = Rule(matte=(None,) * (CURVE_TO + 1), photo=(None,) * (CURVE_TO + 1), average_cost=None)


class VerdictLine(msgspec.Struct, frozen=True):
    """The verdict in some words, and whether it says ``due``."""

    text: str
    due: bool


@answered
def answer(log: Snapshot, *, printer: str | None = None, changes: Changes | None = None) -> BatchAnswer:
    """The whole answer. ``changes`` are supposed, not saved. Raises nothing for want of data: ``notes`` say what is missing."""
    day = log.day
    machine = printer_meant(log, printer)
    basis = basis_of(log, machine, changes)
    loaded: Black = loaded_black(log, machine) if machine is not None else "matte"
    known = orders_supposed(log, changes)
    plan = _planned(log, basis, known, loaded)
    entries = _entries(plan.entries, shared=basis.shared_black_slot)
    flow, there = flow_of(basis), waiting(known)
    rule = _rule(basis, flow, max(there.matte, there.photo))
    return BatchAnswer(
        today=day,
        loaded=loaded,
        waiting=there,
        verdict=_verdict(plan, day, basis),
        exchange_on=plan.exchange_on if basis.shared_black_slot else None,
        plan=entries,
        cost=Cost(**{name: getattr(plan.cost, name) for name in Cost.__struct_fields__}),
        cost_if_exchanged_today=_cost_today(plan, day, basis),
        break_even_prints=rule.least_to_exchange(loaded, there.of(loaded)) if rule is not None else None,
        break_even_between=_break_even_between(basis, loaded, there),
        rule=_curves(rule),
        short=short_of(log, basis.printer, known, entries),
        left_out=plan.left_out,
        notes=notes_of(log, machine, basis, flow, rule, plan, known),
        orders=lines(known, entries, day),
        first_exchange=tuple(FirstExchange(one.day, one.cost) for one in plan.first_exchanges if basis.shared_black_slot),
        otherwise=_otherwise(log, basis, known, loaded),
        history=history_of(log, machine, rule, day - dt.timedelta(days=HISTORY_DAYS)),
        basis=basis,
    )


@answered
def verdict_line(log: Snapshot, printer: str | None = None) -> VerdictLine:
    """The verdict alone, for the line at the bottom of every place: one plan, no rule."""
    machine = printer_meant(log, printer)
    if machine is None or not machine.shared_black_slot:
        return VerdictLine("", False)
    basis = basis_of(log, machine, arrivals=False)
    known = orders_supposed(log)
    loaded = loaded_black(log, machine)
    plan = _planned(log, basis, known, loaded)
    return VerdictLine(short_verdict(loaded, plan.exchange_on, log.day), _verdict(plan, log.day, basis) == "due")


def _planned(log: Snapshot, basis: Basis, known: list[OrderLeft], loaded: Black, at: str = "value") -> BatchPlan:
    orders = [as_planned(one, basis.minutes_per_print) for one in known]
    return plan_batches(orders, loaded, terms_of(basis, at), log.day, days_ahead(log, basis))


def _verdict(plan: BatchPlan, today: dt.date, basis: Basis) -> Verdict:
    return "due" if basis.shared_black_slot and plan.exchange_on == today else "wait"


def _entries(entries: tuple[Entry, ...], *, shared: bool) -> tuple[PlanEntry, ...]:
    """The plan's entries; where each black has its slot no exchange is told, and none without orders."""
    return tuple(
        PlanEntry(date=one.date, black=one.black, changeover=one.changeover and shared, orders=one.orders, minutes=one.minutes)
        for one in entries
        if shared or one.orders
    )


def _cost_today(plan: BatchPlan, today: dt.date, basis: Basis) -> float | None:
    if not basis.shared_black_slot:
        return None
    return next((one.cost for one in plan.first_exchanges if one.day == today), None)


def _rule(basis: Basis, flow: Flow | None, covering: int) -> StandingRule | None:
    return standing_rule(flow, covering) if flow is not None and basis.shared_black_slot else None


def _break_even_between(basis: Basis, loaded: Black, there: Waiting) -> tuple[int | None, int | None] | None:
    """The break-even number at both ends of the cost's interval, where it has one and the rule is quickly found."""
    if all(cost.width == 0 for cost in basis.changeover_cost.values()):
        return None
    flows = [flow_of(basis, end) for end in ("low", "high")]
    rules = [_rule(basis, flow, max(there.matte, there.photo)) for flow in flows if flow is not None and flow.load < QUICK_LOAD]
    if len(rules) < len(flows):
        return None
    low, high = (rule.least_to_exchange(loaded, there.of(loaded)) if rule is not None else None for rule in rules)
    return low, high


def _curves(rule: StandingRule | None) -> Rule:
    if rule is None:
        return NO_RULE
    return Rule(matte=rule.curve("matte"), photo=rule.curve("photo"), average_cost=rule.average_cost)


def _otherwise(log: Snapshot, basis: Basis, known: list[OrderLeft], loaded: Black) -> tuple[Otherwise, ...]:
    """What the plan says at the ends of the interval of the changeovers' cost, where there is one."""
    if not known or all(cost.width == 0 for cost in basis.changeover_cost.values()):
        return ()
    found = []
    for end in ("low", "high"):
        plan = _planned(log, basis, known, loaded, end)
        found.append(Otherwise(end=end, verdict=_verdict(plan, log.day, basis), exchange_on=plan.exchange_on))
    return tuple(found)
