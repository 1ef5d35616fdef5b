"""Days, money, promises and past changeovers in words."""

from __future__ import annotations

import datetime as dt

from logbook.analysis.numeric.interval import Interval
from logbook.records import wording
from logbook.records.text import plain
from logbook.records.units import length_text, number_text
from logbook.records.wording import counted, counted_in_words
from logbook.reports.batch.model import BatchAnswer, BatchDue, Exchanged, OrderLine, Short

__all__ = [
    "bench_day",
    "due_text",
    "exchanged_text",
    "money",
    "orders_at_risk",
    "promise_text",
    "short_text",
]

LEAST_MONEY = 0.005
#: An order is at risk where it is in time less often than this.
SAFE = 0.9


def bench_day(day: dt.date, today: dt.date | None = None) -> str:
    """A bench day in short, with its weekday."""
    return wording.date_text(day, today or day, weekday=True)


def money(value: float) -> str:
    """Money with two decimals.

    >>> money(18.4)
    '18.40'
    """
    return f"{value:.2f}"


def cost_text(cost: Interval) -> str:
    """Money with its interval, where it has one.

    >>> cost_text(Interval(71.9, 66.2, 78.4)), cost_text(Interval(40.0, 40.0, 40.0))
    ('71.90 (66 to 78)', '40.00')
    """
    if cost.width == 0:
        return money(cost.value)
    digits = 0 if cost.width >= 10 else 2
    return f"{money(cost.value)} ({cost.low:.{digits}f} to {cost.high:.{digits}f})"


def due_text(due: BatchDue, *, short: bool = False) -> str:
    """Which batch is due, for one line that has little room, or for one that has hardly any.

    >>> due = BatchDue("photo", dt.date(2026, 12, 3), dt.date(2026, 11, 25))
    >>> due_text(due), due_text(due, short=True), due_text(BatchDue("matte", None, due.today))
    ('photo batch due Thu 3 Dec', 'photo due 3 Dec', 'no matte batch due')
    """
    batch = due.black if short else f"{due.black} batch"
    if due.on is None:
        return f"no {batch} due"
    return f"{batch} due {'today' if due.on == due.today else wording.date_text(due.on, due.today, weekday=not short)}"


def promise_text(order: OrderLine, today: dt.date) -> str:
    """Whether an order keeps its date, and until when a changeover is safe for it.

    >>> line = OrderLine(id="o", title="Slack Water", black="photo", paper=None, prints=1, left=1, taken=dt.date(2026, 11, 20),
    ...                  promised=dt.date(2026, 12, 1), when="soon", planned=dt.date(2026, 11, 30), client=None, price=None,
    ...                  kept_chance=0.94, latest_changeover=dt.date(2026, 11, 30))
    >>> promise_text(line, dt.date(2026, 11, 27))
    'ready in time 94 in 100 times; latest changeover Mon 30 Nov'
    """
    if order.planned is None:
        return "the plan does not reach it"
    parts = [f"planned for {bench_day(order.planned, today)}"]
    if order.when == "late":
        parts = [f"late already, {parts[0]}"]
    elif order.kept_chance is not None:
        parts = [f"ready in time {in_a_hundred(order.kept_chance)} in 100 times"]
    if order.latest_changeover is not None:
        day, late = bench_day(order.latest_changeover, today), order.planned > order.latest_changeover
        parts.append(f"a changeover by {day} would keep it" if late else f"latest changeover {day}")
    if order.lacks:
        parts.append(f"{', '.join(plain(name) for name in order.lacks)} may run out")
    return "; ".join(parts)


def in_a_hundred(chance: float) -> str:
    """A chance as times in a hundred; none is told as certain.

    >>> in_a_hundred(0.94), in_a_hundred(0.001), in_a_hundred(1.0)
    ('94', 'under 1', 'over 99')
    """
    return "under 1" if chance < 0.005 else "over 99" if chance >= 0.995 else f"{round(100 * chance)}"


def chance_cell(order: OrderLine) -> str:
    """How likely an order is ready in time, in five cells; nothing where that is not told."""
    if order.kept_chance is None:
        return ""
    return f"{in_a_hundred(order.kept_chance).replace('under ', '<').replace('over ', '>')} %"


def orders_at_risk(answer: BatchAnswer) -> list[OrderLine]:
    """Orders not late yet that miss their date more often than one time in ten, the likeliest first."""
    risky = [one for one in answer.orders if one.when != "late" and one.kept_chance is not None and one.kept_chance < SAFE]
    return sorted(risky, key=lambda one: one.kept_chance or 0.0)


def short_text(short: Short) -> str:
    """What is short, as a sentence."""
    orders = counted_in_words(len(short.orders), "order")
    name = plain(short.called)
    needed, left = (_amount(amount, short.unit) for amount in (short.needed, short.left))
    return f"{name} will not last: the plan takes about {needed} and {left} are left, too little for {orders}."


def _amount(amount: float, unit: str) -> str:
    if unit == "ml":
        return f"{number_text(amount, 0)} ml"
    return length_text(amount) if unit == "mm" else counted(round(amount), "sheet")


def exchanged_text(one: Exchanged) -> str:
    """A changeover of the past beside what its own morning asked for."""
    there = f"{one.waiting.matte} matte and {one.waiting.photo} photo waited"
    return f"{bench_day(one.at.date())}, to {one.to}: {there}; {_judged(one)}."


def _judged(one: Exchanged) -> str:
    if one.because == "both":
        return "due, by a date and by the rule"
    if one.because is not None:
        return "due by a date" if one.because == "date" else f"due by the rule, from {one.rule_from} on"
    when = f"the dates allowed until {bench_day(one.exchange_on, one.at.date())}" if one.exchange_on else "no date asked for it"
    rule = f", the rule would have waited for {one.rule_from}" if one.rule_from is not None else ""
    return f"not due: {when}{rule}"
