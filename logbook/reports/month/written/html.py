"""The month's answer as one self-contained page: no network, no script, pictures drawn into it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from logbook.records.new_file import MAKER, NewFile, refused_in_one_line
from logbook.records.wording import counted_in_words
from logbook.reports.month.model import MonthAnswer, Signal
from logbook.reports.month.written.style import STYLE
from logbook.reports.month.written.svg import darkness_chart, hatches, keepers_chart, rejects_chart, spending_chart
from logbook.reports.month.written.tables import tables
from logbook.reports.month.written.text import edition_faults, near_lines
from logbook.reports.month.written.words import heading, sentences, signal_text
from logbook.reports.shared.markup import Node, element, html_of
from logbook.reports.shared.table import Table

__all__ = ["as_html", "write_html"]

# Nothing may be fetched and no script run, whatever a title says.
POLICY = "default-src 'none'; style-src 'unsafe-inline'"


def as_html(answer: MonthAnswer) -> str:
    """The review as an HTML page in UTF-8; everything out of the log is text in it."""
    title = heading(answer)
    head = element(
        "head",
        element("meta", charset="utf-8"),
        element("meta", name="generator", content=MAKER),
        element("meta", name="viewport", content="width=device-width, initial-scale=1"),
        element("meta", http_equiv="Content-Security-Policy", content=POLICY),
        element("title", f"Prints in {title}"),
        element("style", STYLE),
    )
    body = element("body", hatches(), element("main", element("h1", title), *_parts(answer)))
    return f"<!DOCTYPE html>\n{html_of(element('html', head, body, lang='en'))}\n"


def write_html(path: Path, answer: MonthAnswer, *, replace: bool = False) -> None:
    """Write the page; ``replace`` only another of ours. Raises ``WriteRefused``."""
    with refused_in_one_line(path), NewFile(path, replace=replace) as file:
        file.write(as_html(answer).encode())


def _parts(answer: MonthAnswer) -> list[Node]:
    said = element("div", *(element("p", sentence) for sentence in sentences(answer)), class_="said")
    compared, *others = tables(answer)
    return [
        said,
        _pictures(answer),
        _table(compared),
        *_list("Drift", [_signal(signal) for signal in answer.signals]),
        *(_table(table) for table in others),
        *_list("Faults in editions", (element("li", fault) for fault in edition_faults(answer.editions))),
        *_list("To do", (element("li", f"{reminder.text}.") for reminder in answer.reminders)),
    ]


def _pictures(answer: MonthAnswer) -> Node:
    drawn = [
        _figure("Prints, and the keepers filled", keepers_chart(answer)),
        _figure("Where money and ink went", spending_chart(answer)),
    ]
    for series in answer.darkness_charts:
        history = counted_in_words(series.history_prints, "print")
        words = f"{series.name}: stops, − is darker; usual range from {history} before"
        drawn.append(_figure(words, darkness_chart(series)))
    if answer.rejects_chart is not None:
        history = counted_in_words(answer.rejects_chart.history_prints, "judged print")
        words = f"Redo and scrap by week; usual range from {history} before"
        drawn.append(_figure(words, rejects_chart(answer.rejects_chart)))
    return element("div", *drawn, class_="pictures")


def _figure(words: str, picture: Node) -> Node:
    return element("figure", element("figcaption", words), picture)


def _table(table: Table) -> Node:
    heads = [element("th", column.name, scope="col", class_=_side(column.right)) for column in table.columns]
    rows = [
        element("tr", *(element("td", cell, class_=_side(column.right)) for cell, column in zip(row, table.columns, strict=True)))
        for row in table.rows
    ]
    made = element("table", element("thead", element("tr", *heads)), element("tbody", *rows))
    note = [element("p", table.note, class_="note")] if table.note else []
    # A table wider than a phone scrolls by itself; the page does not.
    scrolled = element("div", made, class_="wide", tabindex="0", role="region", aria_label=table.title)
    return element("section", element("h2", table.title), scrolled, *note)


def _side(right: bool) -> str | None:
    return "figures" if right else None


def _signal(signal: Signal) -> Node:
    near = element("ul", *(element("li", line) for line in near_lines(signal)))
    return element("li", signal_text(signal), " Just before:", near)


def _list(title: str, items: Iterable[Node]) -> list[Node]:
    shown = list(items)
    return [element("section", element("h2", title), element("ul", *shown))] if shown else []
