"""The batch answer in words."""

from __future__ import annotations

import datetime as dt

from logbook.analysis.numeric.interval import Interval
from logbook.records.fields import BLACKS, Black, other_black
from logbook.records.text import plain
from logbook.records.units import length_text, number_text
from logbook.records.wording import DAYS, MONTHS, counted, ink_text
from logbook.reports.batch.model import BatchAnswer, Exchanged, Short

__all__ = [
    "batch_prints",
    "date_text",
    "exchanged_text",
    "money",
    "reasons",
    "rule_words",
    "short_text",
    "short_verdict",
    "verdict_sentence",
]

LEAST_MONEY = 0.005


def date_text(day: dt.date, today: dt.date | None = None) -> str:
    """A day in short; the year stands with it where it is not ``today``'s and lies more than half a year off.

    >>> date_text(dt.date(2026, 12, 3)), date_text(dt.date(2028, 1, 4), dt.date(2026, 11, 25))
    ('Thu 3 Dec', 'Tue 4 Jan 2028')
    """
    shown = f"{DAYS[day.weekday()]} {day.day} {MONTHS[day.month - 1][:3]}"
    far = today is not None and day.year != today.year and abs((day - today).days) > 183
    return f"{shown} {day.year}" if far else shown


def money(value: float) -> str:
    """Money with two decimals.

    >>> money(18.4)
    '18.40'
    """
    return f"{value:.2f}"


def interval_text(cost: Interval) -> str:
    """Money with its interval, where it has one.

    >>> interval_text(Interval(71.9, 66.2, 78.4)), interval_text(Interval(40.0, 40.0, 40.0))
    ('71.90 (66 to 78)', '40.00')
    """
    if cost.width == 0:
        return money(cost.value)
    digits = 0 if cost.width >= 10 else 2
    return f"{money(cost.value)} ({cost.low:.{digits}f} to {cost.high:.{digits}f})"


def short_verdict(loaded: Black, exchange_on: dt.date | None, today: dt.date) -> str:
    """The verdict for one line that has little room.

    >>> short_verdict("matte", dt.date(2026, 12, 3), dt.date(2026, 11, 25))
    'photo batch due Thu 3 Dec'
    """
    if exchange_on is None:
        return f"no {other_black(loaded)} batch due"
    return f"{other_black(loaded)} batch due {'today' if exchange_on == today else date_text(exchange_on, today)}"


def batch_prints(answer: BatchAnswer) -> int:
    """Prints that the plan makes after its first exchange, up to the next one."""
    left = {order.id: order.left for order in answer.orders}
    starts = [place for place, entry in enumerate(answer.plan) if entry.changeover]
    if not starts:
        return 0
    batch = answer.plan[starts[0] : starts[1] if len(starts) > 1 else None]
    return sum(left.get(name, 0) for entry in batch for name in entry.orders if entry.black != answer.loaded)


def verdict_sentence(answer: BatchAnswer) -> str:
    """The sentence that opens the answer."""
    loaded, other = answer.loaded, other_black(answer.loaded)
    if not answer.basis.shared_black_slot:
        return "Both blacks are in the printer: no exchange is ever due."
    if not answer.orders:
        return f"No order is open. {loaded.capitalize()} stays loaded."
    if not answer.plan:
        return f"Nothing can be planned. {loaded.capitalize()} stays loaded."
    prints = counted(batch_prints(answer), "print")
    if answer.verdict == "due":
        return f"A {other} batch is due: exchange today for {prints}.{_waiting_costs(answer)}"
    if answer.exchange_on is None:
        cut = f"the plan is cut before the first {other} print"
        why = cut if answer.waiting.of(other) else f"no {other} print is on order"
        return f"Stay on {loaded}: {why}.{_today_costs(answer)}"
    until = date_text(answer.exchange_on, answer.today)
    return f"Stay on {loaded} until {until}; then exchange for {prints}.{_today_costs(answer)}"


def _today_costs(answer: BatchAnswer) -> str:
    """What exchanging today would cost more."""
    if answer.cost_if_exchanged_today is None:
        return ""
    more = answer.cost_if_exchanged_today - answer.cost.total
    if more < LEAST_MONEY:
        return " Exchanging today costs no more, but nothing is gained by it."
    return f" Exchanging today costs {money(more)} more."


def _waiting_costs(answer: BatchAnswer) -> str:
    """What the next bench day would cost more."""
    later = [one for one in answer.first_exchange if one.date > answer.today]
    if not later:
        return ""
    more = later[0].cost - answer.cost.total
    when = date_text(later[0].date, answer.today)
    if more < LEAST_MONEY:
        return f" Waiting until {when} costs no more, but finishes no sooner."
    return f" Waiting until {when} costs {money(more)} more."


def reasons(answer: BatchAnswer) -> list[str]:
    """Why: other days' costs, what an exchange costs and from when it pays, and where the verdict is not safe."""
    if not answer.basis.shared_black_slot:
        return []
    found = [_compared(answer), _price(answer), *_flips(answer), *rule_words(answer)]
    return [sentence for sentence in found if sentence]


def rule_words(answer: BatchAnswer) -> list[str]:
    """What the standing rule says of today, and what it was worked out from."""
    return [sentence for sentence in (_rates(answer), _break_even(answer)) if sentence]


def _compared(answer: BatchAnswer) -> str:
    """The costs of today, of the best day and of never before the last date."""
    days = {one.date: one.cost for one in answer.first_exchange}
    if answer.exchange_on is None or answer.exchange_on not in days:
        return ""
    best = "today" if answer.exchange_on == answer.today else f"on {date_text(answer.exchange_on, answer.today)}"
    parts = [f"{money(answer.cost.total)} with the exchange {best}"]
    if answer.today in days and answer.exchange_on != answer.today:
        parts.append(f"{money(days[answer.today])} with it today")
    last = _last_before(answer, list(days))
    if last is not None and last != answer.exchange_on:
        parts.append(f"{money(days[last])} if it waits until {date_text(last, answer.today)}, the last date")
    listed = f"{', '.join(parts[:-1])} and {parts[-1]}" if len(parts) > 1 else parts[0]
    return f"The whole plan costs {listed}."


def _last_before(answer: BatchAnswer, days: list[dt.date]) -> dt.date | None:
    """The last day compared up to the last promised date of the other black, or the last one compared at all."""
    other = other_black(answer.loaded)
    promised = [order.promised for order in answer.orders if order.black == other and order.promised]
    upto = [day for day in days if promised and day <= max(promised)]
    return max(upto or days, default=None)


def _price(answer: BatchAnswer) -> str:
    costs = answer.basis.changeover_cost
    there, back = (costs[way] for way in sorted(costs))
    both = Interval(there.value + back.value, there.low + back.low, there.high + back.high)
    if both.high == 0:
        return ""
    said = set(answer.basis.cost_from.values())
    source = f", from {counted(answer.basis.changeovers, 'changeover')}" if "log" in said else ""
    return f"An exchange there and back costs {interval_text(both)}{source}."


def _break_even(answer: BatchAnswer) -> str:
    loaded, other = answer.loaded, other_black(answer.loaded)
    if answer.rule.average_cost is None:
        return ""
    here = answer.waiting.of(loaded)
    beside = f"with {counted(here, f'{loaded} print')} waiting" if here else f"with no {loaded} print waiting"
    if answer.break_even_prints is None:
        return f"As prints keep arriving, no number of {other} prints up to 60 is worth an exchange {beside}."
    prints = counted(answer.break_even_prints, f"{other} print")
    return f"As prints keep arriving, an exchange pays from {prints} on{_between(answer)}, {beside}."


def _between(answer: BatchAnswer) -> str:
    """The break-even number's own interval, where the exchange's cost moves it."""
    ends = answer.break_even_between
    if ends is None or ends[0] == ends[1]:
        return ""
    low, high = ("more than 60" if end is None else str(end) for end in ends)
    return f" ({low} to {high})"


def _rates(answer: BatchAnswer) -> str:
    rates, prints, days = (answer.basis.prints_per_bench_day, answer.basis.prints_counted, answer.basis.days_counted)
    if rates is None or answer.rule.average_cost is None:
        return ""
    said = " and ".join(f"{_rate(rates[black])} {black}" for black in BLACKS)
    source = f" ({counted(prints, 'print')} on {counted(days, 'bench day')})" if prints is not None and days is not None else ""
    return f"On a bench day {said} prints arrive{source}."


def _rate(rate: Interval) -> str:
    """A rate with its interval, where it has one."""
    shown = number_text(rate.value)
    return shown if rate.width == 0 else f"{shown} ({number_text(rate.low)} to {number_text(rate.high)})"


def _flips(answer: BatchAnswer) -> list[str]:
    """Where another cost inside the interval would give another verdict."""
    found = []
    for other in answer.otherwise:
        if other.verdict != answer.verdict:
            end = "cheapest" if other.end == "low" else "dearest"
            says = "a batch would be due today" if other.verdict == "due" else _would_wait(other.exchange_on, answer.today)
            found.append(f"The verdict is not safe: if exchanges cost what the {end} end of the interval says, {says}.")
    return found


def _would_wait(exchange_on: dt.date | None, today: dt.date) -> str:
    if exchange_on is None:
        return "none would be worth it"
    return f"it would be cheaper to wait until {date_text(exchange_on, today)}"


def short_text(short: Short, papers: dict[str, str] | None = None) -> str:
    """What is short, as a sentence; ``papers`` are their names by id."""
    orders = counted(len(short.orders), "order")
    if short.what == "ink":
        left = number_text(short.left, 0)
        return f"{ink_text(short.name).capitalize()} will not last the plan: {left} ml are left, too little for {orders}."
    name = plain((papers or {}).get(short.name, short.name))
    needed, left = (_amount(amount, short.unit) for amount in (short.needed or 0.0, short.left))
    return f"{name} will not last the plan: it takes about {needed} and {left} are left, too little for {orders}."


def _amount(amount: float, unit: str) -> str:
    return length_text(amount) if unit == "mm" else counted(round(amount), "sheet")


def exchanged_text(one: Exchanged) -> str:
    """A changeover of the past beside the rule."""
    there = f"{one.waiting.matte} matte and {one.waiting.photo} photo waited"
    if one.rule is None:
        return f"{date_text(one.at.date())}, to {one.to}: {there}."
    least = "" if one.rule_from is None else counted(one.rule_from, f"{one.to} print")
    if one.rule == "exchange":
        said = f"exchange, from {least} on" if least else "exchange"
    else:
        said = f"stay until {least} {'waits' if one.rule_from == 1 else 'wait'}" if least else "stay"
    return f"{date_text(one.at.date())}, to {one.to}: {there}; the rule says {said}."
