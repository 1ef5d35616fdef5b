"""Is a matte or a photo batch due: the plan, the standing rule, which day is best, and which orders keep their dates."""

from __future__ import annotations

import datetime as dt
from collections.abc import Mapping
from itertools import islice

import msgspec

from logbook.analysis.batch.best_day import Futures, days_tried
from logbook.analysis.batch.entries import Entry
from logbook.analysis.batch.open_order import OpenOrder
from logbook.analysis.batch.plan import BatchPlan, plan_batches
from logbook.analysis.batch.promises import Keeping, Promises
from logbook.analysis.batch.rule import CURVE_TO, Flow, StandingRule, standing_rule
from logbook.analysis.batch.verdict import Because, because_of
from logbook.records import Order, Printer
from logbook.records.fields import Black, other_black
from logbook.reports.batch.arriving import weeks_of
from logbook.reports.batch.basis import (
    DIRECTIONS,
    USUAL_BENCH,
    attempts_of,
    basis_of,
    bench_of,
    days_ahead,
    each_keeper,
    flow_of,
    printers_at_work,
    terms_of,
)
from logbook.reports.batch.history import history_of
from logbook.reports.batch.model import (
    Basis,
    BatchAnswer,
    BatchDue,
    Changes,
    Cost,
    FirstExchange,
    LikelyDay,
    OrderLine,
    PlanEntry,
    Rule,
)
from logbook.reports.batch.notes import notes_of
from logbook.reports.batch.orders import as_planned, lines, orders_supposed
from logbook.reports.batch.supplies import Supplies, supplies_of
from logbook.snapshot import Snapshot, answered
from logbook.snapshot.orders import OrderLeft, Waiting, waiting
from logbook.snapshot.printer import loaded_black, printer_meant

__all__ = ["BatchAnswer", "Changes", "answer", "batch_due", "promise"]

HISTORY_DAYS = 182
# Below this load the standing rule takes a fraction of a second.
QUICK_LOAD = 0.9
NO_RULE = Rule(matte=(None,) * (CURVE_TO + 1), photo=(None,) * (CURVE_TO + 1), average_cost=None)
#: Bench days after the plan's last on which late work may still be done.
DAYS_AFTER = 60


class _Case(msgspec.Struct, frozen=True):
    """One question, with everything that its parts share."""

    log: Snapshot
    printer: Printer | None
    basis: Basis
    loaded: Black
    known: list[OrderLeft]
    orders: list[OpenOrder]
    plan: BatchPlan
    flow: Flow | None
    rule: StandingRule | None

    @property
    def there(self) -> Waiting:
        """Prints that wait."""
        return waiting(self.known)

    @property
    def cost_known(self) -> bool:
        """Whether anything tells what a changeover costs."""
        return "nothing" not in self.basis.cost_from.values()

    @property
    def rule_says(self) -> bool:
        """Whether the rule asks for a changeover at today's counts."""
        there = self.there
        return self.rule is not None and self.rule.says_exchange(self.loaded, there.matte, there.photo)

    @property
    def because(self) -> Because | None:
        """Why a changeover is due today, where it is."""
        return because_of(self.plan, self.rule_says, self.log.day) if self.basis.shared_black_slot else None

    @property
    def exchange_next(self) -> dt.date | None:
        """The day of the next changeover: the plan's, or the first with room for one where the rule asks for it."""
        if not self.basis.shared_black_slot:
            return None
        first = next((one.day for one in self.plan.first_exchanges), None)
        return first if self.rule_says and first is not None else self.plan.exchange_on

    def days(self) -> list[dt.date]:
        """Bench days, more than the plan takes."""
        last = self.plan.entries[-1].date if self.plan.entries else self.log.day
        ahead = list(islice(days_ahead(self.log, self.basis), 1_000))
        return ahead[: sum(day <= last for day in ahead) + DAYS_AFTER]


def _case(log: Snapshot, printer: str | None, changes: Changes | None = None) -> _Case:
    machine = printer_meant(log, printer)
    basis = basis_of(log, machine, changes)
    loaded: Black = loaded_black(log, machine) if machine is not None else "matte"
    known = orders_supposed(log, machine, changes)
    orders = [as_planned(one, basis) for one in known]
    plan = plan_batches(orders, loaded, terms_of(basis), log.day, days_ahead(log, basis))
    flow, there = flow_of(basis), waiting(known)
    rule = standing_rule(flow, max(there.matte, there.photo)) if flow is not None else None
    return _Case(log, machine, basis, loaded, known, orders, plan, flow, rule)


@answered
def answer(log: Snapshot, *, printer: str | None = None, changes: Changes | None = None) -> BatchAnswer:
    """The whole answer. ``changes`` are supposed, not saved. Raises nothing for want of data: ``notes`` say what is missing."""
    case = _case(log, printer, changes)
    basis, plan, there, shared = case.basis, case.plan, case.there, case.basis.shared_black_slot
    entries, supplies = _entries(plan.entries, shared=shared), supplies_of(log, case.printer, case.known)
    because = case.because
    return BatchAnswer(
        today=log.day,
        loaded=case.loaded,
        waiting=there,
        verdict="due" if because else "wait",
        because=because,
        exchange_on=plan.exchange_on if shared else None,
        plan=entries,
        cost=Cost(**{name: getattr(plan.cost, name) for name in Cost.__struct_fields__}),
        cost_if_exchanged_today=next((one.cost for one in plan.first_exchanges if one.day == log.day and shared), None),
        cost_known=case.cost_known,
        attempts=each_keeper(basis),
        break_even_prints=case.rule.least_to_exchange(case.loaded, there.of(case.loaded)) if case.rule is not None else None,
        break_even_between=_break_even_between(case),
        rule=_curves(case),
        short=supplies.short(plan.entries, case.known, each_keeper(basis)),
        left_out=plan.left_out,
        notes=notes_of(log, case.printer, basis, case.flow, case.rule, plan, case.known),
        orders=lines(log, case.known, entries, _keeping(case, supplies)),
        first_exchange=tuple(
            FirstExchange(one.day, one.cost, one.changeovers, one.dearest) for one in plan.first_exchanges if shared
        ),
        likely=_likely(case),
        exchange_next=case.exchange_next,
        history=history_of(log, case.printer, basis, case.rule, log.day - dt.timedelta(days=HISTORY_DAYS)),
        basis=basis,
    )


@answered
def batch_due(log: Snapshot, printer: str | None = None) -> BatchDue | None:
    """The verdict alone, for the line at the bottom of every place. None where there is nothing to exchange."""
    machine = printer_meant(log, printer)
    if machine is None or not machine.shared_black_slot:
        return None
    case = _case(log, printer)
    return BatchDue(other_black(case.loaded), case.exchange_next, log.day, now=case.because is not None)


@answered
def promise(log: Snapshot, order: Order) -> OrderLine | None:
    """Whether an order that is being typed would keep its date, on the printer it goes to and beside what is open there.

    None where it needs no known black.
    """
    cases = (_case(log, printer.id, Changes(extra=(order,))) for printer in printers_at_work(log))
    case = next((case for case in cases if any(asked.order.id == order.id for asked in case.known)), None)
    if case is None:
        return None
    entries = _entries(case.plan.entries, shared=case.basis.shared_black_slot)
    keeping = _keeping(case, supplies_of(log, case.printer, case.known))
    return next(line for line in lines(log, case.known, entries, keeping) if line.id == order.id)


def _entries(entries: tuple[Entry, ...], *, shared: bool) -> tuple[PlanEntry, ...]:
    """The plan's entries; where each black has its slot no changeover is told, and none without orders."""
    return tuple(
        PlanEntry(date=one.date, black=one.black, changeover=one.changeover and shared, orders=one.orders, minutes=one.minutes)
        for one in entries
        if shared or one.orders
    )


def _keeping(case: _Case, supplies: Supplies) -> Mapping[str, Keeping]:
    """Whether each order keeps its date."""
    if not case.plan.entries:
        return {}
    attempts = attempts_of(case.basis)
    promises = Promises(
        case.orders, case.plan.entries, case.loaded, terms_of(case.basis), attempts, supplies.known, case.log.day, case.days()
    )
    return promises.keeping()


def _likely(case: _Case) -> tuple[LikelyDay, ...]:
    """The coming bench days, each tried in many futures, while anything is on order."""
    if case.rule is None or case.flow is None or not case.known:
        return ()
    to_photo, to_matte = (case.basis.changeover_cost[way] for way in DIRECTIONS)
    attempts = attempts_of(case.basis)
    futures = Futures(
        weeks_of(case.log, bench_of(case.log, case.printer) or USUAL_BENCH),
        (to_matte, to_photo),
        (attempts["matte"], attempts["photo"]),
        case.basis.minutes_per_print,
    )
    can = {one.day for one in case.plan.first_exchanges}
    days = [day for day in case.days() if day in can or day > max(can, default=case.log.day)]
    tried = days_tried(case.orders, case.loaded, terms_of(case.basis), case.rule, case.flow, futures, case.log.day, days)
    return tuple(LikelyDay(one.day, one.chance, one.more) for one in tried)


def _break_even_between(case: _Case) -> tuple[int | None, int | None] | None:
    """The break-even number at both ends of the cost's interval, where it has one and the rule is quickly found."""
    flows = [flow_of(case.basis, end) for end in ("low", "high")]
    if all(cost.width == 0 for cost in case.basis.changeover_cost.values()):
        return None
    most = max(case.there.matte, case.there.photo)
    rules = [standing_rule(flow, most) for flow in flows if flow is not None and flow.load < QUICK_LOAD]
    if len(rules) < len(flows):
        return None
    low, high = (rule.least_to_exchange(case.loaded, case.there.of(case.loaded)) if rule is not None else None for rule in rules)
    return low, high


def _curves(case: _Case) -> Rule | None:
    rule = case.rule
    if rule is None:
        return NO_RULE if case.cost_known else None
    return Rule(matte=rule.curve("matte"), photo=rule.curve("photo"), average_cost=rule.average_cost)
