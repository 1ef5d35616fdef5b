"""The month's answer as plain text for a terminal, in 80 columns."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.records.text import plain
from logbook.records.wording import counted_in_words, date_in_full
from logbook.reports.month.model import EditionState, MonthAnswer, Signal
from logbook.reports.month.written.tables import tables
from logbook.reports.month.written.words import heading, sentences, signal_text
from logbook.reports.shared.table import as_plain_text, wrapped

__all__ = ["as_text", "edition_faults", "near_lines"]

#: More changes than this beside one signal bury the likely one.
MOST_NEAR = 6


def as_text(answer: MonthAnswer, width: int = 80) -> str:
    """The review: sentences first, then the tables, the signals of drift and what is to be done."""
    parts = [f"Month · {heading(answer)}", wrapped(" ".join(sentences(answer)), width)]
    parts += [as_plain_text(table, width) for table in tables(answer)]
    parts += _section("Drift", (line for signal in answer.signals for line in _signal_lines(signal)), width)
    parts += _section("Faults in editions", edition_faults(answer.editions), width)
    parts += _section("To do", (f"{reminder.text}." for reminder in answer.reminders), width)
    return "\n\n".join(parts)


def edition_faults(editions: Iterable[EditionState]) -> list[str]:
    """What is wrong with editions, one sentence for each fault."""
    said = []
    for edition in editions:
        name = f"{plain(edition.title)}, edition of {edition.size}" if edition.size else plain(edition.title)
        said += [f"{name}: more than one print bears number {number}." for number in edition.twice]
        said += [f"{name}: number {number} is beyond the edition." for number in edition.beyond]
    return said


def near_lines(signal: Signal) -> list[str]:
    """What changed just before a signal, one line each, the newest first."""
    newest = sorted(signal.near, key=lambda change: change.at, reverse=True)
    lines = [f"{date_in_full(change.at.date())}: {plain(change.what)}" for change in newest[:MOST_NEAR]]
    if len(newest) > MOST_NEAR:
        lines.append(f"and {counted_in_words(len(newest) - MOST_NEAR, 'earlier change')}")
    return lines or ["nothing that the log knows of"]


def _signal_lines(signal: Signal) -> list[str]:
    return [signal_text(signal), "Just before:", *(f"- {line}" for line in near_lines(signal))]


def _section(title: str, lines: Iterable[str], width: int) -> list[str]:
    shown = [wrapped(line[:1].upper() + line[1:], width) for line in lines]
    return ["\n".join([title, "", *shown])] if shown else []
