"""What the month's place shows: each view is a block of lines made from the answer, as wide as there is room."""

from __future__ import annotations

from collections.abc import Callable

from textual.content import Content

from logbook.analysis.month.drift import MIN_HISTORY
from logbook.records.text import plain
from logbook.records.wording import counted_in_words
from logbook.reports.month.model import MonthAnswer
from logbook.reports.month.written import tables as month_tables
from logbook.reports.month.written.text import edition_faults, near_lines
from logbook.reports.month.written.words import heading, ink_parts, money_parts, sentences, signal_text
from logbook.reports.shared.table import Table, as_plain_text, wrapped
from logbook.tui.places.month.month_charts import bars, beside, darkness_plot, keepers_plot, weeks_plot

__all__ = ["VIEWS", "first_sentence", "view_lines"]

WIDE = 110
COMPARISON = 70
"""Cells that the figures of three months take side by side."""
VIEWS = ("month", "papers", "drift", "money", "sales", "to do")

NO_PRINT = (
    "Once prints are logged (n) and judged (v), this is where they stand month by month: how many were kept, what they cost, "
    "and what changed against the months before."
)
ONE_MONTH = "From the second month with prints on, the months stand side by side here."
NOTHING_SPENT = (
    "Nothing was spent in this month that the log knows of. What prints cost is told once they are logged and paper and ink have "
    "a price: a paper's or a roll's on Shelf (7), a cartridge's with w. What ink they took is told by the gauge (r)."
)

View = Callable[[MonthAnswer, int], list[Content]]


def first_sentence(answer: MonthAnswer) -> str:
    """The month and what it came to; the view of the month says the rest."""
    empty = not answer.prints and not answer.before
    return plain(f"{heading(answer)}. {sentences(answer)[0]}{' Press n to log a print.' if empty else ''}")


def view_lines(name: str, answer: MonthAnswer, width: int) -> list[Content]:
    """The lines of one of ``VIEWS``; papers are a list of their own."""
    return _VIEWS[name](answer, width)


def _month(answer: MonthAnswer, width: int) -> list[Content]:
    """The other sentences, prints and keepers by month, and the figures against the months before."""
    rows = (*answer.before, answer)
    said = [*_words(" ".join(sentences(answer)[1:]), width), Content("")] if len(sentences(answer)) > 1 else []
    printed = sum(row.prints > 0 for row in rows)
    if not printed:
        return [*said, *_words(NO_PRINT, width)]
    if printed == 1:
        return [*said, *_table(month_tables.comparison(answer), width), Content(""), *_words(ONE_MONTH, width)]
    if width >= WIDE:
        half = max(width - COMPARISON - 4, 40)
        compared = _table(month_tables.comparison(answer), width - half - 4)
        return [*said, *beside(keepers_plot(rows, half, height=12), compared, half)]
    return [*said, *keepers_plot(rows, width), Content(""), *_table(month_tables.comparison(answer), width)]


def _drift(answer: MonthAnswer, width: int) -> list[Content]:
    """Signals first, then the charts they come from."""
    lines: list[Content] = []
    for signal in answer.signals:
        told = _words(f"▲ {plain(signal_text(signal))} Just before:", width)
        lines += [line.stylize("$asks") for line in told]
        lines += [Content(f"  {line}") for near in near_lines(signal) for line in wrapped(near, width - 4).split("\n")]
        lines.append(Content(""))
    if not answer.signals and (answer.darkness_charts or answer.rejects_chart is not None):
        lines += [*_words("Nothing left its usual range this month.", width), Content("")]
    if answer.darkness_charts:
        lines += [Content.styled("● running average   · one print   ╌ usual range", "$quiet"), Content("")]
    return [*lines, *_charts(answer, width)]


def _charts(answer: MonthAnswer, width: int) -> list[Content]:
    blocks = []
    room = (width - 4) // 2 if width >= WIDE else width
    for series in answer.darkness_charts:
        history = counted_in_words(series.history_prints, "print")
        title = f"{plain(series.name)}: stops, − is darker; usual range from {history} before"
        blocks.append([*_words(title, room), *darkness_plot(series, room), Content("")])
    if answer.rejects_chart is not None:
        history = counted_in_words(answer.rejects_chart.history_prints, "judged print")
        title = f"Redo and scrap by week; usual range from {history} before"
        blocks.append([*_words(title, room), *weeks_plot(answer.rejects_chart, room), Content("")])
    if not blocks:
        there = counted_in_words(sum(row.judged for row in answer.before), "judged print")
        return _words(
            f"A chart wants {MIN_HISTORY} judged prints of one paper from the months before, to know its usual range; "
            f"of all papers together there {'is' if there.startswith('one') else 'are'} {there}. Press v to judge.",
            width,
        )
    if width < WIDE:
        return [line for block in blocks for line in block]
    pairs = [(blocks[i], blocks[i + 1] if i + 1 < len(blocks) else []) for i in range(0, len(blocks), 2)]
    return [line for left, right in pairs for line in beside(left, right, room)]


def _money(answer: MonthAnswer, width: int) -> list[Content]:
    """Where money and ink went, then what each picture took and brought."""
    if not any(value for _, value in (*money_parts(answer), *ink_parts(answer))):
        return _words(NOTHING_SPENT, width)
    room = (width - 4) // 2 if width >= WIDE else width
    left = [Content.styled("money", "$quiet"), *bars(money_parts(answer), room)]
    right = [Content.styled("ink, ml", "$quiet"), *bars(ink_parts(answer), room, digits=1)]
    lines = beside(left, right, room) if width >= WIDE else [*left, Content(""), *right]
    lines += [Content(""), *_table(month_tables.pictures(answer), width)]
    return [*lines, Content(""), *_table(month_tables.months(answer), width)]


def _sales(answer: MonthAnswer, width: int) -> list[Content]:
    """What was sold, what a print must sell for, and the editions."""
    blocks = [_table(month_tables.sales(answer), width), _prices(answer, width), _table(month_tables.editions(answer), width)]
    return [line for block in blocks if block for line in (*block, Content(""))]


def _prices(answer: MonthAnswer, width: int) -> list[Content]:
    if not answer.prices:
        return _words(
            "Note the price of a paper or a roll on Shelf (7), and of a cartridge with w. "
            "Once prints were kept, the least that a print must sell for stands here.",
            width,
        )
    return _table(month_tables.keeper_prices(answer), width)


def _to_do(answer: MonthAnswer, width: int) -> list[Content]:
    lines = []
    for told in (*edition_faults(answer.editions), *(f"{reminder.text}." for reminder in answer.reminders)):
        lines += _words(told[:1].upper() + told[1:], width)
    return lines or _words("Nothing is to be done, as far as the log tells.", width)


def _table(table: Table, width: int) -> list[Content]:
    if not table.rows:
        return []
    title, blank, heads, *rows = as_plain_text(table, width).split("\n")
    return [Content.styled(title, "bold"), Content(blank), Content.styled(heads, "$quiet"), *(Content(row) for row in rows)]


def _words(text: str, width: int) -> list[Content]:
    return [Content(line) for line in wrapped(text, width).split("\n")]


_VIEWS: dict[str, View] = {"month": _month, "drift": _drift, "money": _money, "sales": _sales, "to do": _to_do}
