"""The papers of a month side by side, one on each line, all of them together on the first."""

from __future__ import annotations

from dataclasses import dataclass

from textual.content import Content

from logbook.analysis.month.figures import Figures
from logbook.records.darkness import stops_text
from logbook.records.text import plain
from logbook.reports.month.model import MonthAnswer
from logbook.reports.month.written.words import UNKNOWN, figure, rate_text
from logbook.tui.widgets.lists.columns import Column, headings, line

__all__ = ["PaperRow", "paper_heading", "paper_line", "paper_rows"]

PAPER = Column("paper", 12, share=1, names=True)
FIGURES = (
    Column("prints", 6, right=True),
    Column("kept", 4, right=True),
    Column("keeper rate", 14, right=True),
    Column("m²", 6, right=True),
    Column("cut away", 8, right=True),
    Column("ink ml", 7, right=True),
    Column("cost", 8, right=True),
    Column("per keeper", 10, right=True),
    Column("stops", 5, right=True),
)
NARROW = ("prints", "kept", "keeper rate", "cost", "per keeper", "stops")
WIDE = 100


@dataclass(frozen=True)
class PaperRow:
    """One paper's line; ``paper`` is None on the line of all of them."""

    paper: str | None
    name: str
    figures: Figures


def paper_rows(answer: MonthAnswer) -> list[PaperRow]:
    """All papers together, then each."""
    each = [PaperRow(paper.paper, paper.name, paper) for paper in answer.papers]
    return [PaperRow(None, "all papers", answer), *each] if each else []


def paper_heading(width: int) -> Content:
    """The headings, with a cell for the cursor before each line."""
    return Content.assemble(" ", headings((PAPER, *_figures(width - 1)), width - 1))


def paper_line(row: PaperRow, width: int) -> Content:
    """One paper in ``width`` cells."""
    told = row.figures
    cells = {
        "prints": str(told.prints),
        "kept": str(told.keepers),
        "keeper rate": rate_text(told.keeper_rate),
        "m²": figure(told.paper_m2),
        "cut away": figure(told.waste_m2),
        "ink ml": figure(told.ink_ml, 1),
        "cost": figure(told.cost.total),
        "per keeper": figure(told.cost_per_keeper),
        "stops": UNKNOWN if told.darkness_stops is None else stops_text(told.darkness_stops),
    }
    shown = _figures(width)
    return line((PAPER, *shown), [plain(row.name), *(cells[column.heading] for column in shown)], width)


def _figures(width: int) -> tuple[Column, ...]:
    """The columns there is room for."""
    return FIGURES if width >= WIDE else tuple(column for column in FIGURES if column.heading in NARROW)
