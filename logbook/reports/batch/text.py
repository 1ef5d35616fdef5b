"""The batch answer as text: the verdict, why, the plan, the orders, the rule, the past."""

from __future__ import annotations

from logbook.records.fields import BLACKS, Black, other_black
from logbook.records.wording import counted
from logbook.reports.batch.model import BatchAnswer, OrderLine, PlanEntry
from logbook.reports.batch.sentences import reasons, verdict_sentence
from logbook.reports.batch.words import bench_day, chance_cell, exchanged_text, orders_at_risk, promise_text, short_text
from logbook.reports.shared.table import Column, Table, as_plain_text, cell_width, wrapped

__all__ = ["as_text"]

NAMES_WIDTH = 34
MOST_ORDERS = 60
RULE_COLUMNS = (0, 2, 4, 6, 8, 10, 15, 20)


def as_text(answer: BatchAnswer) -> str:
    """The answer for a terminal of 80 columns; the verdict comes first."""
    parts = [
        wrapped(verdict_sentence(answer)),
        "\n".join(wrapped(sentence) for sentence in reasons(answer)),
        "\n".join(wrapped(f"{one.title}: {promise_text(one, answer.today)}.") for one in orders_at_risk(answer)),
        "\n".join(wrapped(short_text(short)) for short in answer.short),
        "\n".join(wrapped(note) for note in answer.notes),
        _plan(answer),
        _orders(answer),
        _rule(answer),
        _history(answer),
    ]
    return "\n\n".join(part for part in parts if part)


def _plan(answer: BatchAnswer) -> str:
    if not answer.plan:
        return ""
    titles = {order.id: order for order in answer.orders}
    rows = tuple(_plan_row(entry, titles, answer) for entry in answer.plan)
    columns = (
        Column("Day", right=False),
        Column("Black", right=False),
        Column("Prints"),
        Column("Minutes"),
        Column("Orders", right=False),
    )
    return as_plain_text(Table("Plan", columns, rows))


def _plan_row(entry: PlanEntry, orders: dict[str, OrderLine], answer: BatchAnswer) -> tuple[str, ...]:
    known = [orders[name] for name in entry.orders if name in orders]
    prints = str(sum(order.left for order in known)) if known else "–"
    black = f"changeover, {entry.black}" if entry.changeover else entry.black
    names = shortened(", ".join(order.title for order in known) or "–")
    return bench_day(entry.date, answer.today), black, prints, f"{entry.minutes:.0f}", names


def shortened(names: str, width: int = NAMES_WIDTH) -> str:
    """Names that fit into the plan's last column."""
    return names if cell_width(names) <= width else f"{names[: width - 1]}…"


def _orders(answer: BatchAnswer) -> str:
    if not answer.orders:
        return ""
    columns = (
        Column("Order", right=False),
        Column("Black", right=False),
        Column("Left"),
        Column("Promised", right=False),
        Column("", right=False),
        Column("Planned", right=False),
        Column("In time"),
    )
    rows = tuple(
        (
            order.title,
            order.black,
            f"{order.left} of {order.prints}",
            bench_day(order.promised, answer.today) if order.promised else "–",
            order.when,
            bench_day(order.planned, answer.today) if order.planned else "left out",
            chance_cell(order),
        )
        for order in answer.orders[:MOST_ORDERS]
    )
    more = len(answer.orders) - MOST_ORDERS
    note = f"… and {more} more" if more > 0 else None
    return as_plain_text(Table(counted(len(answer.orders), "open order").capitalize(), columns, rows, note))


def _rule(answer: BatchAnswer) -> str:
    if answer.rule is None or answer.rule.average_cost is None:
        return ""
    rule = answer.rule
    columns = (Column("Prints of the loaded black waiting", right=False), *(Column(str(count)) for count in RULE_COLUMNS))
    rows = tuple((_rule_words(black), *(_least(rule.of(black)[at]) for at in RULE_COLUMNS)) for black in BLACKS)
    note = f"This rule costs {rule.average_cost:.2f} a bench day on average, if orders keep coming as now."
    return as_plain_text(Table("Standing rule", columns, rows, note))


def _rule_words(loaded: Black) -> str:
    return f"{loaded} loaded: exchange from … {other_black(loaded)}"


def _least(count: int | None) -> str:
    return "–" if count is None else str(count)


def _history(answer: BatchAnswer) -> str:
    if not answer.history:
        return ""
    lines = [wrapped(exchanged_text(one)) for one in answer.history[-12:]]
    return "\n".join(["The changeovers of the last half year, each as its own morning saw it", "", *lines])
