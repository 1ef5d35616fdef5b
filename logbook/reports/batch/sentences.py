"""The verdict in sentences: what to do, when, why, and how sure that is."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

from logbook.analysis.numeric.interval import Interval
from logbook.analysis.numeric.proportion import wilson
from logbook.records.fields import BLACKS, Black, other_black
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.records.wording import counted
from logbook.reports.batch.model import BatchAnswer, LikelyDay, OrderLine
from logbook.reports.batch.words import LEAST_MONEY, bench_day, cost_text, money

__all__ = ["how_sure", "reasons", "rule_words", "verdict_sentence"]

#: Days are as good as one another where they differ by less than this share of a changeover's cost.
AS_GOOD = 0.05
#: A day is often the best where it is so in this share of the futures.
OFTEN = 0.25


def verdict_sentence(answer: BatchAnswer) -> str:
    """What to do, when and why; dates and rule together."""
    said = _verdict(answer)
    return f"{plain(answer.basis.name)}: {said[0].lower()}{said[1:]}" if answer.basis.others and answer.basis.name else said


def _verdict(answer: BatchAnswer) -> str:
    loaded, other = answer.loaded, other_black(answer.loaded)
    if not answer.basis.shared_black_slot:
        return "Both blacks are in the printer: no changeover is ever due."
    if not answer.orders:
        return "No order is open." if answer.basis.printer is None else f"No order is open: {loaded} stays loaded."
    if not answer.plan:
        return f"Nothing can be planned: {loaded} stays loaded."
    if answer.verdict == "due":
        first = f"Print the {counted(prints, f'{loaded} print')}, then e" if (prints := _printed_before(answer)) else "E"
        return f"{first}xchange today for {counted(answer.waiting.of(other), f'{other} print')}{_why_today(answer)}"
    if answer.exchange_on is None:
        why = f"the plan is cut before the first {other} print" if answer.waiting.of(other) else f"no {other} print is on order"
        return f"Stay on {loaded}: {why}."
    return f"Not yet. {_work_first(answer)}xchange {_on_day(answer)}{_for_what(answer)}{_or_sooner(answer)}."


def _why_today(answer: BatchAnswer) -> str:
    other = other_black(answer.loaded)
    enough = "it is" if answer.waiting.of(other) == 1 else "they are"
    by_rule = f"{enough} enough to pay for it"
    if answer.because == "rule":
        until = f"; the dates alone would allow until {_day(answer, answer.exchange_on)}" if answer.exchange_on else ""
        return f": {by_rule}{until}."
    return f", because {_pressing(answer, answer.today)}{f'; and {by_rule}' if answer.because == 'both' else ''}."


def _work_first(answer: BatchAnswer) -> str:
    """What is printed today before anything is exchanged, up to the first letter of the word “exchange”."""
    prints = _printed_today(answer)
    return f"Print the {counted(prints, f'{answer.loaded} print')} today; e" if prints else "E"


def _printed_before(answer: BatchAnswer) -> int:
    """Prints of the loaded black that there is time for today beside a changeover; none where not all of today's fit."""
    basis, today = answer.basis, [entry for entry in answer.plan if entry.date == answer.today]
    minutes = sum(entry.minutes for entry in today if entry.black == answer.loaded)
    fits = minutes + basis.changeover_minutes <= basis.minutes_per_day - basis.used_today
    return _printed_today(answer) if fits else 0


def _printed_today(answer: BatchAnswer) -> int:
    """Prints of the loaded black that the plan makes today."""
    names = {name for entry in answer.plan if entry.date == answer.today for name in entry.orders}
    return sum(order.left for order in answer.orders if order.id in names and order.black == answer.loaded)


def _for_what(answer: BatchAnswer) -> str:
    """The batch of the first changeover, and the order whose date asks for it."""
    left = {order.id: order.left for order in answer.orders}
    starts = [place for place, entry in enumerate(answer.plan) if entry.changeover]
    batch = answer.plan[starts[0] : starts[1] if len(starts) > 1 else None]
    prints = sum(left.get(name, 0) for entry in batch for name in entry.orders if entry.black != answer.loaded)
    if _by_rule(answer):
        waiting = answer.waiting.of(other_black(answer.loaded))
        return f" for {counted(waiting, f'{other_black(answer.loaded)} print')}: enough to pay for it"
    why = _pressing(answer, answer.exchange_on) if answer.exchange_on else ""
    return f" for {counted(prints, f'{other_black(answer.loaded)} print')}{f', because {why}' if why else ''}"


def _pressing(answer: BatchAnswer, day: dt.date | None) -> str:
    """The order of the other black whose date asks for a changeover by that day."""
    names = {name for entry in answer.plan for name in entry.orders if entry.black != answer.loaded}
    asking = [order for order in answer.orders if order.id in names]
    first = min(asking, key=lambda order: _free_until(answer, order), default=None)
    if first is None or day is None:
        return ""
    title = f"“{plain(first.title)}”"
    if first.promised is None:
        return f"{title} has waited long enough {'then' if _free_until(answer, first) > answer.today else 'already'}"
    if first.promised < answer.today:
        return f"{title} is late"
    return f"{title} is promised for {_day(answer, first.promised)}"


def _free_until(answer: BatchAnswer, order: OrderLine) -> dt.date:
    """The last day on which printing an order costs nothing."""
    if order.promised is None:
        return order.taken + dt.timedelta(days=answer.basis.patience_days)
    return order.promised - dt.timedelta(days=answer.basis.days_to_dry)


def _or_sooner(answer: BatchAnswer) -> str:
    """What the rule says beside the dates: from how many prints on it would be sooner, or how long the dates would allow."""
    if _by_rule(answer):
        return f"; the dates alone would allow until {_day(answer, answer.exchange_on)}" if answer.exchange_on else ""
    left = answer.waiting.of(answer.loaded) - _printed_today(answer)
    curve = answer.rule.of(answer.loaded) if answer.rule is not None else ()
    least = curve[left] if left < len(curve) else None
    more = least is not None and least > answer.waiting.of(other_black(answer.loaded))
    return f"; sooner once {least} wait" if more else ""


def _by_rule(answer: BatchAnswer) -> bool:
    """Whether the rule asks for it on an earlier day than the dates do."""
    return answer.exchange_next != answer.exchange_on


def _on_day(answer: BatchAnswer) -> str:
    """When to exchange: on a day, or by it where an earlier one would cost the dates no more."""
    day = _day(answer, answer.exchange_next)
    earlier = [one.cost for one in answer.first_exchange if answer.exchange_on and one.date < answer.exchange_on]
    if not _by_rule(answer) and earlier and min(earlier) < answer.cost.total + LEAST_MONEY:
        return f"by {day}"
    return day if day == "tomorrow" else f"on {day}"


def _day(answer: BatchAnswer, day: dt.date | None) -> str:
    """A day as one says it."""
    if day is None:
        return "no day"
    return {0: "today", 1: "tomorrow"}.get((day - answer.today).days, bench_day(day, answer.today))


# Why, and how sure


def reasons(answer: BatchAnswer) -> list[str]:
    """How sure the day is, what a changeover costs, and what the rule stands on."""
    if not answer.basis.shared_black_slot:
        return []
    found = [how_sure(answer), _price(answer), *rule_words(answer), _attempts(answer)]
    return [sentence for sentence in found if sentence]


def how_sure(answer: BatchAnswer) -> str:
    """The days that are as good as one another, how often the best day is among them, and what the days around them cost."""
    days = answer.likely
    if not days:
        return _compared(answer)
    good = _as_good(answer)
    chance = round(100 * sum(one.chance for one in good))
    names = _listed([_day(answer, one.date) for one in good])
    said = f"{names[0].upper()}{names[1:]} {'is' if len(good) == 1 else 'are'} best {chance} times in 100, as orders may come in"
    around = [one for one in days if one not in good and (one.date == answer.today or one.date > good[-1].date)]
    return f"{said}; {'; '.join(_costs_more(answer, one) for one in around[:2])}." if around else f"{said}."


def _as_good(answer: BatchAnswer) -> Sequence[LikelyDay]:
    """The days that cost about the same on average, or are often the best; and those between them."""
    most = AS_GOOD * max(1.0, *(cost.value for cost in answer.basis.changeover_cost.values()))
    places = [place for place, one in enumerate(answer.likely) if one.more.value <= most or one.chance >= OFTEN]
    return answer.likely[places[0] : places[-1] + 1]


def _costs_more(answer: BatchAnswer, one: LikelyDay) -> str:
    more = one.more
    if more.low < -0.5:
        return f"{_day(answer, one.date)} costs {money(more.value)} more on average ({_signed(more.low)} to {_signed(more.high)})"
    return f"{_day(answer, one.date)} costs {max(0.0, more.low):.0f} to {more.high:.0f} more"


def _signed(value: float) -> str:
    return f"{value:.0f}".replace("-", "−")


def _listed(names: Sequence[str]) -> str:
    """Names in a row; of many, the first and the last.

    >>> _listed(["today", "Mon 30 Nov"]), _listed(["today", "a", "b", "Fri 4 Dec"])
    ('today and Mon 30 Nov', 'today to Fri 4 Dec')
    """
    return f"{names[0]} to {names[-1]}" if len(names) > 2 else " and ".join(names)


def _compared(answer: BatchAnswer) -> str:
    """Where no rule tells what is to come: what the plan costs today, or on the next day."""
    other_day = next((one for one in answer.first_exchange if (one.date == answer.today) != (answer.verdict == "due")), None)
    if other_day is None or answer.exchange_on is None:
        return ""
    more = other_day.cost - answer.cost.total
    if more < LEAST_MONEY:
        return f"{_day(answer, other_day.date).capitalize()} would cost no more, but nothing is gained by it."
    return f"{_day(answer, other_day.date).capitalize()} would cost {money(more)} more."


def rule_words(answer: BatchAnswer) -> list[str]:
    """What the standing rule says of today, and what it was worked out from."""
    return [sentence for sentence in (_break_even(answer), _rates(answer)) if sentence]


def _price(answer: BatchAnswer) -> str:
    costs = answer.basis.changeover_cost
    there, back = (costs[way] for way in sorted(costs))
    both = Interval(there.value + back.value, there.low + back.low, there.high + back.high)
    if both.high == 0:
        return ""
    said = set(answer.basis.cost_from.values())
    source = f", from {counted(answer.basis.changeovers, 'changeover')}" if "log" in said else ""
    return f"A changeover and back costs {cost_text(both)}{source}."


def _break_even(answer: BatchAnswer) -> str:
    loaded, other = answer.loaded, other_black(answer.loaded)
    if not answer.has_rule:
        return ""
    here = answer.waiting.of(loaded)
    beside = f"With {counted(here, f'{loaded} print')} waiting" if here else f"With no {loaded} print waiting"
    if answer.break_even_prints is None:
        return f"{beside}, no number of {other} prints up to 60 pays for a changeover."
    prints = counted(answer.break_even_prints, f"{other} print")
    return f"{beside}, a changeover pays from {prints} on{_between(answer)}, as orders keep coming."


def _between(answer: BatchAnswer) -> str:
    """The break-even number's own interval, where the changeover's cost moves it."""
    ends = answer.break_even_between
    if ends is None or ends[0] == ends[1]:
        return ""
    low, high = ("more than 60" if end is None else str(end) for end in ends)
    return f" ({low} to {high})"


def _rates(answer: BatchAnswer) -> str:
    basis = answer.basis
    if basis.prints_per_bench_day is None or not answer.has_rule:
        return ""
    said = " and ".join(f"{_rate(basis.prints_per_bench_day[black])} {black}" for black in BLACKS)
    source = f" ({counted(basis.orders_counted, 'order')} in {basis.weeks_counted} weeks)" if basis.orders_counted else ""
    return f"A bench day brings orders for {said} prints{source}{_season(basis.season)}."


def _season(factor: float) -> str:
    """Where last year's same weeks tell something of the coming ones."""
    change = round(100 * abs(factor - 1))
    if change < 10:
        return ""
    return f": {change} % {'more' if factor > 1 else 'fewer'} than over the year, as in the same weeks a year ago"


def _rate(rate: Interval) -> str:
    """A rate with its interval, where it has one."""
    shown = number_text(rate.value)
    return shown if rate.width == 0 else f"{shown} ({number_text(rate.low)} to {number_text(rate.high)})"


def _attempts(answer: BatchAnswer) -> str:
    told = [black for black in BLACKS if answer.attempts.of(black) > 1]
    if not told:
        return ""
    said = " or ".join(f"{number_text(answer.attempts.of(black))} {black}{_between_attempts(answer, black)}" for black in told)
    made = sum(answer.basis.attempts[black].prints for black in told)
    return f"A keeper takes {said} attempts ({counted(made, 'print')} in twelve months): minutes, paper and ink allow for them."


def _between_attempts(answer: BatchAnswer, black: Black) -> str:
    counted_on = answer.basis.attempts[black]
    share = wilson(counted_on.keepers, counted_on.prints)
    return f" ({1 / share.high:.1f} to {1 / share.low:.1f})"
