"""The month's answer: what changed, what it cost, and what a print must sell for."""

from __future__ import annotations

import calendar
import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np

from logbook.analysis.month.figures import Figures, Sheets, figures, known_sum, month_name, month_number, months_before
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Cartridge, Changeover, Cleaning, Order, Paper, Printer, Stock
from logbook.records.long_work import step
from logbook.reports.darkness.kept import kept, own_score
from logbook.reports.month.columns import Supplies, sheets_of, strips_unjudged
from logbook.reports.month.drift import drift_of
from logbook.reports.month.editions import editions
from logbook.reports.month.ink import InkFigures, ink_figures
from logbook.reports.month.model import EditionState, KeeperPrice, MonthAnswer, MonthRow, PaperMonth, PictureMonth, Sale, Upkeep
from logbook.reports.month.money import Income, income_of, month_of, upkeep_of
from logbook.reports.month.pictures import pictures_of
from logbook.reports.month.prices import keeper_prices
from logbook.reports.month.reminders import reminders_of
from logbook.reports.month.sales import sales_of
from logbook.snapshot import Snapshot, answered
from logbook.store import columns, history

__all__ = ["answer", "prints_of"]

MONTHS = 12

Mask = NDArray[np.bool_]


@dataclass(frozen=True)
class _Review:
    """What every part of the answer is made from. ``chosen`` marks the prints asked about."""

    prints: columns.Prints
    sheets: Sheets
    supplies: Supplies
    income: Income
    upkeep: Mapping[int, tuple[Upkeep, Upkeep]]
    chosen: Mask
    filtered: bool
    month: int

    def upkeep_cost(self, month: int) -> float | None:
        """Money for changeovers and cleanings of a month; None where there were some and none has a price."""
        happened = [part.cost for part in self.upkeep[month] if part.count]
        return known_sum(np.array(happened, dtype=np.float64))

    def carried(self, month: int, mask: Mask) -> float | None:
        """What the prints under ``mask`` carry of their month's upkeep, shared evenly over all its prints."""
        whole = self.upkeep_cost(month)
        made = int(np.count_nonzero(self.sheets.month == month))
        if whole is None or not made:
            return 0.0 if self.filtered else whole
        return whole * int(np.count_nonzero(mask)) / made


@answered
def answer(
    log: Snapshot,
    *,
    month: str | None = None,
    paper: str | None = None,
    printer: str | None = None,
    size: tuple[float, float] | None = None,
    ink: InkFigures | None = None,
) -> MonthAnswer:
    """The review of a month (YYYY-MM; else that of the day), of a paper or printer where given.

    The prices tell the sizes made most often, and that of an image of ``size`` mm (width, height) on every paper.
    ``ink`` are the rates of the ink answer; they are worked out from the log where not given.
    Raises ValueError for what is no month.
    """
    day = log.day
    number = month_number(month) if month is not None else month_of(day)
    review = _review(log, number, paper, printer, ink if ink is not None else ink_figures(log))
    chosen = review.chosen
    step("looking for what drifted")
    drift = drift_of(log, review.prints.where(chosen), review.sheets.where(chosen), dict(review.supplies.papers), number)
    return MonthAnswer(
        **_fields(_row(review, number, day)),
        papers=_papers(review),
        signals=drift.signals,
        before=tuple(_row(review, past, day) for past in _months_logged(log, number)),
        darkness_charts=drift.darkness,
        rejects_chart=drift.rejects,
        pictures=_pictures(log, review),
        sales=_sales(log, review),
        prices=_prices(review, size),
        editions=_editions(log),
        reminders=reminders_of(log, review.prints, min(day, _last_day(number))),
        foretold=own_score(one for one in kept(log) if month_of(one.day) == number),
    )


def prints_of(log: Snapshot, month: str, paper: str | None = None) -> tuple[history.Line, ...]:
    """The lines of a month's prints (of one paper, where given), in the sequence they were made."""
    number = month_number(month)
    prints = log.prints(since=_first_day(number), until=_last_day(number), paper=paper)
    lines = {line.id: line for line in log.ask(history.of_days, _first_day(number), _last_day(number))}
    return tuple(lines[id] for id in prints.id)


def _review(log: Snapshot, number: int, paper: str | None, printer: str | None, ink: InkFigures) -> _Review:
    step("adding up the months")
    prints = strips_unjudged(log.prints(since=_first_day(max(number - MONTHS, MONTHS)), until=_last_day(number)))
    supplies = Supplies(
        papers={record.id: record for record in log.all(Paper)},
        stocks={record.id: record for record in log.all(Stock)},
        printers={record.id: record for record in log.all(Printer)},
        cartridges=tuple(log.all(Cartridge)),
        rates=ink.rates,
    )
    events: list[Changeover | Cleaning] = [*log.all(Changeover), *log.all(Cleaning)]
    events = [event for event in events if printer is None or event.printer == printer]
    chosen = np.ones(len(prints), dtype=bool)
    for column, wanted in ((prints.paper, paper), (prints.printer, printer)):
        chosen &= (column == wanted) if wanted is not None else True
    return _Review(
        prints=prints,
        sheets=sheets_of(prints, supplies),
        supplies=supplies,
        income=income_of(prints, log.all(Order)),
        upkeep={month: upkeep_of(events, month, ink.waste) for month in (*months_before(number, MONTHS), number)},
        chosen=chosen,
        filtered=paper is not None or printer is not None,
        month=number,
    )


def _row(review: _Review, number: int, today: dt.date) -> MonthRow:
    mask = review.chosen & (review.sheets.month == number)
    changeovers, cleanings = review.upkeep[number]
    return MonthRow(
        **_fields(figures(review.sheets, mask, review.carried(number, mask), _income(review, number))),
        month=month_name(number),
        running=number == month_of(today),
        changeovers=changeovers,
        cleanings=cleanings,
    )


def _income(review: _Review, number: int, paper: str | None = None) -> float | None:
    """Income of a month: all of it, or what the prints asked about (of one paper, where given) brought."""
    income = review.income
    if not income.known:
        return None
    if not review.filtered and paper is None:
        return income.by_month.get(number, 0.0)
    mine = review.chosen & (income.share_month == number)
    if paper is not None:
        mine &= review.prints.paper == paper
    return known_sum(income.share[mine]) if np.any(mine) else None


def _papers(review: _Review) -> tuple[PaperMonth, ...]:
    """The month's papers, the most printed first."""
    now = review.chosen & (review.sheets.month == review.month)
    rows = []
    for paper in set(review.prints.paper[now].tolist()):
        mask = now & (review.prints.paper == paper)
        told = figures(review.sheets, mask, review.carried(review.month, mask), _income(review, review.month, paper))
        rows.append(PaperMonth(**_fields(told), paper=paper, name=review.supplies.papers[paper].name))
    return tuple(sorted(rows, key=lambda row: (-row.prints, row.name)))


def _pictures(log: Snapshot, review: _Review) -> tuple[PictureMonth, ...]:
    carried = {}
    for month in review.upkeep:
        made = int(np.count_nonzero(review.sheets.month == month))
        carried[month] = (review.upkeep_cost(month) or 0.0) / max(made, 1)
    return pictures_of(log, review.prints, review.sheets, review.income, carried, review.month, review.chosen)


def _sales(log: Snapshot, review: _Review) -> tuple[Sale, ...]:
    chosen = review.chosen if review.filtered else None
    return sales_of(log, review.prints, review.supplies.papers, log.all(Order), review.month, chosen)


def _prices(review: _Review, size: tuple[float, float] | None) -> tuple[KeeperPrice, ...]:
    """Prices from the twelve months that end with this one; upkeep as all prints of the year carry it."""
    year = review.sheets.month > review.month - MONTHS
    whole = sum(review.upkeep_cost(month) or 0.0 for month in review.upkeep if month > review.month - MONTHS)
    asked = whole * int(np.count_nonzero(year & review.chosen)) / max(int(np.count_nonzero(year)), 1)
    return keeper_prices(review.prints, review.sheets, review.supplies, year & review.chosen, asked, review.income, size)


def _editions(log: Snapshot) -> tuple[EditionState, ...]:
    rows = [
        EditionState(
            picture=picture,
            title=log.pictures[picture].title,
            size=size,
            given=len(known.given),
            next_number=known.next_number,
            twice=known.twice,
            beyond=known.beyond,
        )
        for (picture, size), known in editions(log).items()
    ]
    return tuple(sorted(rows, key=lambda row: (row.title, row.size or 0)))


def _months_logged(log: Snapshot, number: int) -> range:
    """The twelve months before, but none before the log's first print."""
    first = month_of(log.first_day) if log.first_day is not None else number
    months = months_before(number, MONTHS)
    return range(min(max(months.start, first), number), number)


def _first_day(number: int) -> dt.date:
    return dt.date.fromisoformat(f"{month_name(number)}-01")


def _last_day(number: int) -> dt.date:
    first = _first_day(number)
    return first.replace(day=calendar.monthrange(first.year, first.month)[1])


def _fields(told: Figures) -> dict[str, Any]:
    return {name: getattr(told, name) for name in told.__struct_fields__}
