"""What the place Batches shows: each view is a block of lines made from the answer, as wide as there is room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from textual.content import Content

from logbook.analysis.batch.rule import StandingRule
from logbook.records.fields import other_black
from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.reports.batch.model import BatchAnswer, Changes, OrderLine
from logbook.reports.batch.sentences import reasons, rule_words
from logbook.reports.batch.words import (
    bench_day,
    chance_cell,
    exchanged_text,
    in_a_hundred,
    money,
    orders_at_risk,
    promise_text,
    short_text,
)
from logbook.reports.shared.table import wrapped
from logbook.tui.places.batches.batch_calendar import DUE, TEXTURE, calendar
from logbook.tui.places.batches.rule_map import rule_map
from logbook.tui.widgets.lists.columns import Column, headings, line

__all__ = ["VIEWS", "BatchModel", "order_heading", "order_line", "supposed_line", "view_lines"]

VIEWS = ("plan", "orders", "rule", "past")
WIDE = 100
RISKS = 2
DAYS_SHOWN = 10
COLUMNS = (
    Column("order", 14, share=3, names=True),
    Column("black", 7),
    Column("left", 8, right=True),
    Column("promised", 10),
    Column("", 7),
    Column("planned", 10),
    Column("in time", 7, right=True),
    Column("for", 6, share=1, names=True),
)


@dataclass(frozen=True)
class BatchModel:
    """What the place reads: the answer, the whole rule for its map, and the times away."""

    answer: BatchAnswer
    rule: StandingRule | None
    away: Sequence[tuple[date, date]]


def view_lines(name: str, model: BatchModel, width: int, height: int) -> list[Content]:
    """The lines of one of ``VIEWS``; orders are a list of their own."""
    if name == "rule":
        return _rule(model, width, height)
    return _past(model, width) if name == "past" else _plan(model, width)


def _words(text: str, width: int) -> list[Content]:
    return [Content(part) for part in wrapped(text, width).split("\n")]


def _plan(model: BatchModel, width: int) -> list[Content]:
    """How sure the day is and what it costs, then the calendar, then what else there is to know."""
    answer = model.answer
    first, rest = reasons(answer)[:2], reasons(answer)[2:]
    lines = [part for sentence in first for part in _words(sentence, width)]
    for order in orders_at_risk(answer)[:RISKS]:
        lines += _words(f"! {plain(order.title)}: {promise_text(order, answer.today)}", width)
    if answer.basis.weekdays:
        lines += [Content(""), *_whose_plan(answer), *calendar(answer, model.away, width), _legend(), Content("")]
    lines += _days(answer, width)
    for short in answer.short:
        lines += _words(f"! {short_text(short)}", width)
    for sentence in (*rest, *answer.notes):
        lines += _words(sentence, width)
    return lines


def _whose_plan(answer: BatchAnswer) -> list[Content]:
    """Where the rule asks for a changeover, the calendar still shows what the dates alone would do."""
    by_dates = answer.exchange_next == answer.exchange_on
    return [] if by_dates else [Content.styled("By the dates alone, the orders would be printed like this:", "$quiet")]


def _legend() -> Content:
    words = f"{TEXTURE['matte']} matte   {TEXTURE['photo']} photo   ⇄ changeover   {DUE} orders promised for that day"
    return Content.styled(words, "$quiet")


def _days(answer: BatchAnswer, width: int) -> list[Content]:
    """What the plan costs by the day of the changeover, which order makes it dear, and how often the day is the best."""
    shown = answer.first_exchange[:DAYS_SHOWN]
    if len(shown) < 2 or not answer.orders:
        return []
    titles = {order.id: plain(order.title) for order in answer.orders}
    chances = {one.date: one.chance for one in answer.likely}
    dearest, fewest = max(one.cost for one in shown) or 1.0, min(one.changeovers for one in shown)
    room = max(8, min(40, width - 58))
    lines = [Content.styled("What the plan costs by the day of the changeover, and how often that day is best", "$quiet")]
    for one in shown:
        mark = "›" if one.date == answer.exchange_on else " "
        bar = "━" * round(room * one.cost / dearest)
        why = "one changeover more" if one.changeovers > fewest else titles.get(one.dearest or "", "")
        chance = f"{in_a_hundred(chances[one.date]):>8} in 100" if one.date in chances else ""
        line = Content.assemble(
            f"{mark} {bench_day(one.date, answer.today):<11}",
            (f"{bar:<{room}}", "$quiet"),
            f"{money(one.cost):>8}  {chance:<17}",
            why,
        )
        lines.append(line.truncate(width, ellipsis=True))
    return [*lines, Content("")]


def _rule(model: BatchModel, width: int, height: int) -> list[Content]:
    answer, rule = model.answer, model.rule
    if rule is None:
        return [part for note in answer.notes or ("There is no standing rule.",) for part in _words(note, width)]
    said = [part for sentence in rule_words(answer)[:1] for part in _words(sentence, width)]
    waiting = (answer.waiting.of(answer.loaded), answer.waiting.of(other_black(answer.loaded)))
    return [*said, Content(""), *rule_map(rule, answer.loaded, waiting, width, height - len(said) - 1)]


def _past(model: BatchModel, width: int) -> list[Content]:
    """Each changeover of the last half year beside the verdict of its morning, the newest first."""
    if not model.answer.history:
        return _words("No changeover was logged in the last half year. c logs one.", width)
    due = sum(one.verdict == "due" for one in model.answer.history)
    count = counted(len(model.answer.history), "changeover")
    lines = _words(f"{count} in the last half year; {_agreed(due, len(model.answer.history))}.", width)
    for one in reversed(model.answer.history):
        lines += _words(exchanged_text(one), width)
    return lines


def _agreed(due: int, count: int) -> str:
    """How many of them were due on their day.

    >>> _agreed(1, 8), _agreed(0, 3), _agreed(2, 2)
    ('one of them was due on its day', 'none of them was due on its day', 'each was due on its day')
    """
    if due == count:
        return "each was due on its day"
    number = "none" if due == 0 else "one" if due == 1 else str(due)
    return f"{number} of them {'was due on its' if due < 2 else 'were due on their'} day"


def order_heading(width: int) -> Content:
    """The headings of the list of orders."""
    return headings(_columns(width), width)


def _columns(width: int) -> tuple[Column, ...]:
    """The columns for which there is room: who it is for gives way first."""
    return COLUMNS if width >= WIDE else COLUMNS[:-1]


def order_line(order: OrderLine, width: int) -> Content:
    """One open order; what is late or promised soon stands out by its word."""
    state = (order.when, "$asks bold" if order.when == "late" else "bold" if order.when == "soon" else "$quiet")
    cells = (
        plain(order.title),
        f"{TEXTURE[order.black]} {order.black}",
        f"{order.left} of {order.prints}",
        bench_day(order.promised) if order.promised else "–",
        Content.assemble(state),
        bench_day(order.planned) if order.planned else "left out",
        chance_cell(order),
        plain(order.client or ""),
    )
    columns = _columns(width)
    return line(columns, cells[: len(columns)], width)


def supposed_line(changes: Changes, answer: BatchAnswer | None) -> str:
    """What is supposed and not saved, in one line."""
    if not changes.any or answer is None:
        return ""
    titles = {order.id: plain(order.title) for order in answer.orders}
    parts = []
    if changes.changeover_cost:
        parts.append(f"a changeover and back costs {money(sum(changes.changeover_cost.values()))}")
    parts += [f"{counted(order.prints, f'{order.black} print')} more" for order in changes.extra]
    for name, day in changes.promised.items():
        when = bench_day(day, answer.today) if day else "no day"
        parts.append(f"{titles.get(name, 'an order')} promised for {when}")
    return f"Supposed, not saved: {'; '.join(parts)}."
