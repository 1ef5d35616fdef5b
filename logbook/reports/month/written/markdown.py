"""The month's answer as Markdown; text out of the log is escaped, so that it is shown as it is."""

from __future__ import annotations

from collections.abc import Iterable

from logbook.reports.month.model import MonthAnswer, Signal
from logbook.reports.month.written.tables import tables
from logbook.reports.month.written.text import edition_faults, near_lines
from logbook.reports.month.written.words import heading, sentences, signal_text
from logbook.reports.shared.table import as_markdown as table_as_markdown
from logbook.reports.shared.table import markdown_escaped

__all__ = ["as_markdown"]


def as_markdown(answer: MonthAnswer) -> str:
    """The review as one Markdown document (tables as in GitHub-flavoured Markdown)."""
    parts = [f"# {markdown_escaped(heading(answer))}"]
    parts += [markdown_escaped(sentence) for sentence in sentences(answer)]
    parts += [table_as_markdown(table) for table in tables(answer)]
    parts += _list("Drift", (_signal(signal) for signal in answer.signals))
    parts += _list("Faults in editions", (markdown_escaped(fault) for fault in edition_faults(answer.editions)))
    parts += _list("To do", (markdown_escaped(f"{reminder.text}.") for reminder in answer.reminders))
    return "\n\n".join(parts) + "\n"


def _signal(signal: Signal) -> str:
    near = "\n".join(f"  - {markdown_escaped(line)}" for line in near_lines(signal))
    return f"{markdown_escaped(signal_text(signal))} Just before:\n{near}"


def _list(title: str, lines: Iterable[str]) -> list[str]:
    shown = [f"- {line}" for line in lines]
    return ["\n".join([f"## {title}", "", *shown])] if shown else []
