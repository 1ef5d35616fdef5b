"""What the batch answer assumed, could not know, or had to leave out, in plain sentences."""

from __future__ import annotations

import datetime as dt

from logbook.analysis.batch.attempts import LEAST_KEEPERS
from logbook.analysis.batch.plan import BatchPlan
from logbook.analysis.batch.rule import Flow, StandingRule
from logbook.records import Printer
from logbook.records.units import number_text
from logbook.records.wording import counted, ink_text
from logbook.reports.batch.basis import attempts_of, bench_of
from logbook.reports.batch.model import Basis
from logbook.reports.batch.orders import as_planned
from logbook.reports.batch.words import bench_day
from logbook.reports.ink.columns import price_per_ml
from logbook.snapshot import Snapshot
from logbook.snapshot.orders import OrderLeft

__all__ = ["notes_of"]

COST_UNKNOWN = (
    "Read the inks before and after the next changeover and note what cartridges cost, or put the cost into the bench times: "
    "until then only dates can ask for a changeover."
)
RATES_UNKNOWN = "The standing rule needs four weeks of logged orders, or your own figure in the bench times."


def notes_of(
    log: Snapshot,
    printer: Printer | None,
    basis: Basis,
    flow: Flow | None,
    rule: StandingRule | None,
    plan: BatchPlan,
    known: list[OrderLeft],
) -> tuple[str, ...]:
    """The notes that apply, one sentence or two each."""
    notes = [
        *_of_bench(basis, described=printer is not None, set_up=bench_of(log, printer) is not None),
        *_of_cost(basis),
        *_of_prices(log, printer, basis),
        *_of_attempts(basis),
        *_of_rule(basis, flow, rule),
        *_of_plan(basis, plan, known, log.day),
    ]
    return tuple(notes)


def _of_bench(basis: Basis, *, described: bool, set_up: bool) -> list[str]:
    found = [] if described else ["No printer is described yet."]
    if not set_up:
        found.append(
            f"No bench times are noted, so Monday to Friday is taken, {number_text(basis.minutes_per_day)} minutes a day, "
            f"{number_text(basis.minutes_per_print)} for a print and {number_text(basis.changeover_minutes)} for a changeover."
        )
    if not basis.weekdays:
        found.append("No weekday is a bench day, so nothing can be planned.")
    return found


def _of_cost(basis: Basis) -> list[str]:
    if not basis.shared_black_slot:
        return ["This printer holds both blacks: nothing has to be exchanged."]
    sources = set(basis.cost_from.values())
    if "nothing" in sources:
        return [COST_UNKNOWN]
    if "the other direction" in sources:
        known = next(way for way, source in basis.cost_from.items() if source != "the other direction")
        return [f"Only the changeover to {known.partition('>')[2]} is priced; the way back is taken to cost the same."]
    return []


def _of_prices(log: Snapshot, printer: Printer | None, basis: Basis) -> list[str]:
    """Inks that a changeover wastes and its cost does not hold, where the cost comes from the log."""
    if printer is None or not basis.shared_black_slot or "log" not in basis.cost_from.values():
        return []
    prices = price_per_ml(log, printer)
    left_out = [ink_text(ink) for ink in printer.ink_names if ink not in prices]
    return [f"Not in the cost of a changeover, for want of a price: {', '.join(left_out)}."] if left_out else []


def _of_attempts(basis: Basis) -> list[str]:
    """Blacks of which too few prints were kept to tell how often one is made again; silent where nothing was printed."""
    few = [black for black, attempts in attempts_of(basis).items() if attempts.prints and not attempts.told]
    blacks = " and ".join(few)
    return [f"Fewer than {LEAST_KEEPERS} {blacks} prints were kept: one attempt is counted for each."] if few else []


def _of_rule(basis: Basis, flow: Flow | None, rule: StandingRule | None) -> list[str]:
    if not basis.shared_black_slot:
        return []
    if basis.prints_per_bench_day is None and basis.others:
        return ["Several printers share the orders: the standing rule needs your own figure for this bench in the bench times."]
    if basis.prints_per_bench_day is None:
        return [RATES_UNKNOWN]
    if flow is not None and rule is None:
        ordered = number_text(flow.matte_per_day + flow.photo_per_day)
        return [f"{ordered} prints are ordered on a bench day, more than fit into it: no standing rule can keep up."]
    if rule is None:
        return []
    if not rule.settled:
        return ["The bench is so nearly full that the standing rule's figures are close, not exact."]
    return []


def _of_plan(basis: Basis, plan: BatchPlan, known: list[OrderLeft], today: dt.date) -> list[str]:
    found = []
    if basis.shared_black_slot and basis.changeover_minutes > basis.minutes_per_day:
        found.append("A changeover takes longer than a bench day: it has a whole one to itself.")
    minutes = [as_planned(one, basis).minutes for one in known]
    long = sum(each > basis.minutes_per_day for each in minutes)
    if long:
        whole = "has a whole one to itself" if long == 1 else "each has a whole one to itself"
        found.append(f"{counted(long, 'order')} longer than a bench day {whole}.")
    if plan.left_out and plan.entries:
        found.append(
            f"The plan was cut: it holds the {counted(len(known) - len(plan.left_out), 'order')} promised first and ends on "
            f"{bench_day(plan.entries[-1].date, today)}; {counted(len(plan.left_out), 'later order')} are left out of it and of "
            "its cost."
        )
    elif plan.left_out and basis.weekdays:
        found.append("There is no bench day left for the open orders.")
    return found
