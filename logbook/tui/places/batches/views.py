"""What the place Batches shows: each view is a block of lines made from the answer, as wide as there is room."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date

from textual.content import Content

from logbook.analysis.batch.rule import StandingRule
from logbook.records.fields import other_black
from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.reports.batch.model import BatchAnswer, Changes, OrderLine
from logbook.reports.batch.words import date_text, exchanged_text, money, reasons, rule_words, short_text
from logbook.reports.shared.table import wrapped
from logbook.tui.places.batches.batch_calendar import DUE, TEXTURE, calendar
from logbook.tui.places.batches.rule_map import rule_map
from logbook.tui.widgets.lists.columns import Column, headings, line

__all__ = ["VIEWS", "BatchModel", "order_heading", "order_line", "supposed_line", "view_lines"]

VIEWS = ("plan", "orders", "rule", "past")
WIDE = 100
COLUMNS = (
    Column("order", 14, share=3),
    Column("black", 7),
    Column("left", 8, right=True),
    Column("promised", 11),
    Column("", 8),
    Column("planned", 11),
    Column("for", 6, share=1),
)


@dataclass(frozen=True)
class BatchModel:
    """What the place reads: the answer, the whole rule for its map, the times away, and papers' names."""

    answer: BatchAnswer
    rule: StandingRule | None
    away: Sequence[tuple[date, date]]
    papers: dict[str, str] = field(default_factory=dict)


def view_lines(name: str, model: BatchModel, width: int, height: int) -> list[Content]:
    """The lines of one of ``VIEWS``; orders are a list of their own."""
    if name == "rule":
        return _rule(model, width, height)
    return _past(model, width) if name == "past" else _plan(model, width)


def _words(text: str, width: int) -> list[Content]:
    return [Content(part) for part in wrapped(text, width).split("\n")]


def _plan(model: BatchModel, width: int) -> list[Content]:
    """The calendar, then why, then what is short or missing."""
    answer = model.answer
    lines = [*calendar(answer, model.away, width), _legend(), Content("")] if answer.basis.weekdays else []
    for sentence in reasons(answer):
        lines += _words(sentence, width)
    for short in answer.short:
        lines += _words(f"! {short_text(short, model.papers)}", width)
    for note in answer.notes:
        lines += _words(note, width)
    return [*lines, *_first_exchanges(answer, width)]


def _legend() -> Content:
    words = f"{TEXTURE['matte']} matte   {TEXTURE['photo']} photo   ⇄ exchange   {DUE} orders promised for that day"
    return Content.styled(words, "$quiet")


def _first_exchanges(answer: BatchAnswer, width: int) -> list[Content]:
    """What the plan would cost for each day of the first exchange, as bars."""
    shown = answer.first_exchange[:12]
    if len(shown) < 2 or not answer.orders:
        return []
    dearest = max(one.cost for one in shown) or 1.0
    room = max(10, min(40, width - 30))
    lines = [Content(""), Content.styled("The plan's cost by the day of the first exchange", "$quiet")]
    for one in shown:
        mark = "›" if one.date == answer.exchange_on else " "
        bar = "━" * round(room * one.cost / dearest)
        lines.append(Content.assemble(f"{mark} {date_text(one.date, answer.today):<12}", (bar, "$quiet"), f" {money(one.cost)}"))
    return lines


def _rule(model: BatchModel, width: int, height: int) -> list[Content]:
    answer, rule = model.answer, model.rule
    if rule is None:
        return [part for note in answer.notes or ("There is no standing rule.",) for part in _words(note, width)]
    said = [part for sentence in rule_words(answer) for part in _words(sentence, width)]
    waiting = (answer.waiting.of(answer.loaded), answer.waiting.of(other_black(answer.loaded)))
    return [*said, Content(""), *rule_map(rule, answer.loaded, waiting, width, height - len(said) - 1)]


def _past(model: BatchModel, width: int) -> list[Content]:
    """Each exchange of the last half year beside the rule, the newest first."""
    if not model.answer.history:
        return _words("No exchange was logged in the last half year. c logs one.", width)
    said = sum(one.rule == "exchange" for one in model.answer.history)
    count = counted(len(model.answer.history), "exchange")
    lines = _words(f"{count} in the last half year; {_agreed(said, len(model.answer.history))}.", width)
    for one in reversed(model.answer.history):
        lines += _words(exchanged_text(one), width)
    return lines


def _agreed(said: int, count: int) -> str:
    """At how many exchanges the rule would have exchanged too.

    >>> _agreed(1, 8), _agreed(0, 1), _agreed(2, 2)
    ('at one of them the rule would have exchanged too', 'the rule would have stayed', 'the rule would have exchanged too')
    """
    if said in (0, count):
        return "the rule would have exchanged too" if said else "the rule would have stayed"
    return f"at {'one' if said == 1 else said} of them the rule would have exchanged too"


def order_heading(width: int) -> Content:
    """The headings of the list of orders."""
    return headings(_columns(width), width)


def _columns(width: int) -> tuple[Column, ...]:
    """The columns for which there is room: who it is for gives way first."""
    return COLUMNS if width >= WIDE else COLUMNS[:-1]


def order_line(order: OrderLine, width: int) -> Content:
    """One open order; what is late or due soon stands out by its word."""
    state = (order.when, "$asks bold" if order.when == "late" else "bold" if order.when == "due soon" else "$quiet")
    cells = (
        plain(order.title),
        f"{TEXTURE[order.black]} {order.black}",
        f"{order.left} of {order.prints}",
        date_text(order.promised) if order.promised else "–",
        Content.assemble(state),
        date_text(order.planned) if order.planned else "left out",
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
        parts.append(f"an exchange there and back costs {money(sum(changes.changeover_cost.values()))}")
    parts += [f"{counted(order.prints, f'{order.black} print')} more" for order in changes.extra]
    for name, day in changes.promised.items():
        when = date_text(day, answer.today) if day else "no day"
        parts.append(f"{titles.get(name, 'an order')} promised for {when}")
    return f"Supposed, not saved: {'; '.join(parts)}."
