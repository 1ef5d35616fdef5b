"""The month's charts out of the log: darkness of each paper, redo and scrap of each week, and what was near."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from logbook.analysis.month.drift import DarknessChart, RejectsChart, darkness_chart, rejects_chart, run_start
from logbook.analysis.month.figures import Sheets, known
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import Paper
from logbook.reports.month.changes import changes, first_uses, near
from logbook.reports.month.model import Change, ChartPoint, DarknessSeries, RejectsSeries, Signal, WeekPoint
from logbook.snapshot import Snapshot
from logbook.store import columns

__all__ = ["Drift", "drift_of"]

Rows = NDArray[np.int64]

FEWEST_IN_A_WEEK = 8


@dataclass(frozen=True)
class Drift:
    """The charts of a month and the times at which they left their limits."""

    darkness: tuple[DarknessSeries, ...]
    rejects: RejectsSeries | None
    signals: tuple[Signal, ...]


@dataclass(frozen=True)
class _Charted:
    """What the charts are drawn from: the prints in time order, and the number of the month."""

    prints: columns.Prints
    sheets: Sheets
    papers: dict[str, Paper]
    month: int
    changes: tuple[Change, ...]


def drift_of(log: Snapshot, prints: columns.Prints, sheets: Sheets, papers: dict[str, Paper], month: int) -> Drift:
    """The charts of the month of that number; ``prints`` are those of the month and of the months before it."""
    of = _Charted(prints, sheets, papers, month, changes(log, papers))
    drawn = [_paper_chart(of, paper) for paper in papers if np.any(sheets.paper[sheets.month == month] == paper)]
    charted = [pair for pair in drawn if pair is not None]
    rejects, weeks = _weeks_chart(of)
    signals = [signal for _, found in charted for signal in found] + weeks
    return Drift(
        darkness=tuple(series for series, _ in charted),
        rejects=rejects,
        signals=tuple(sorted(signals, key=lambda signal: signal.at)),
    )


def _paper_chart(of: _Charted, paper: str) -> tuple[DarknessSeries, list[Signal]] | None:
    seen = (of.sheets.paper == paper) & ~np.isnan(of.sheets.darkness_stops)
    now = np.flatnonzero(seen & (of.sheets.month == of.month))
    before = of.sheets.darkness_stops[seen & (of.sheets.month < of.month)]
    chart = darkness_chart(before, of.sheets.darkness_stops[now])
    if chart is None or not len(now):
        return None
    signals = [_paper_signal(of, paper, chart, now, position) for position in chart.left]
    return _series(of, paper, chart, now), signals


def _series(of: _Charted, paper: str, chart: DarknessChart, rows: Rows) -> DarknessSeries:
    points = tuple(
        ChartPoint(
            at=of.prints.time_of(int(row)),
            number=int(of.prints.number[row]),
            darkness_stops=float(of.sheets.darkness_stops[row]),
            average_stops=float(average),
            out=not chart.low <= average <= chart.high,
        )
        for row, average in zip(rows, chart.averages, strict=True)
    )
    return DarknessSeries(
        paper=paper,
        name=of.papers[paper].name,
        target=chart.target,
        spread=chart.spread,
        low=chart.low,
        high=chart.high,
        history_prints=chart.history,
        points=points,
    )


def _paper_signal(of: _Charted, paper: str, chart: DarknessChart, rows: Rows, position: int) -> Signal:
    value = float(chart.averages[position])
    first, last = int(rows[run_start(chart.averages, chart.target, position)]), int(rows[position])
    logged = of.changes + first_uses(of.prints, paper, first, last)
    return Signal(
        at=of.prints.time_of(last),
        chart="ewma",
        paper=paper,
        name=of.papers[paper].name,
        value=value,
        limit=chart.low if value < chart.low else chart.high,
        near=tuple(sorted(near(logged, of.prints.time_of(first), of.prints.time_of(last), paper), key=lambda change: change.at)),
    )


def _weeks_chart(of: _Charted) -> tuple[RejectsSeries | None, list[Signal]]:
    judged = known(of.prints.verdict)
    rejected = judged & (of.prints.verdict != "keep")
    before, now = judged & (of.sheets.month < of.month), np.flatnonzero(judged & (of.sheets.month == of.month))
    weeks = _by_week(of.prints.day, now)
    counts = [len(rows) for rows in weeks]
    rejects = [int(np.count_nonzero(rejected[rows])) for rows in weeks]
    chart = rejects_chart(int(np.count_nonzero(rejected & before)), int(np.count_nonzero(before)), rejects, counts)
    if chart is None or not weeks:
        return None, []
    points = tuple(_week_point(of, chart, i, rows, rejects[i]) for i, rows in enumerate(weeks))
    series = RejectsSeries(average=chart.average, history_prints=chart.history, weeks=points)
    return series, [_week_signal(of, chart, position, weeks[position]) for position in chart.left]


def _by_week(days: NDArray[np.datetime64], rows: Rows) -> list[Rows]:
    """The rows of each calendar week (Monday to Sunday), in time order.

    A week with few prints goes with the one after it (the last with the one before): limits for a handful of prints
    would call a single redo a drift.
    """
    # 1 January 1970 was a Thursday: three days on, whole weeks begin on a Monday.
    week = (days[rows].astype("datetime64[D]").astype(np.int64) + 3) // 7
    groups: list[Rows] = []
    for number in np.unique(week):
        if groups and len(groups[-1]) < FEWEST_IN_A_WEEK:
            groups[-1] = np.concatenate([groups[-1], rows[week == number]])
        else:
            groups.append(rows[week == number])
    if len(groups) > 1 and len(groups[-1]) < FEWEST_IN_A_WEEK:
        groups[-2:] = [np.concatenate(groups[-2:])]
    return groups


def _week_point(of: _Charted, chart: RejectsChart, position: int, rows: Rows, rejects: int) -> WeekPoint:
    share = float(chart.shares[position])
    low, high = float(chart.low[position]), float(chart.high[position])
    days = of.prints.day[rows]
    return WeekPoint(
        first=days.min().item(),
        last=days.max().item(),
        prints=len(rows),
        rejects=rejects,
        share=share,
        low=low,
        high=high,
        out=not low <= share <= high,
    )


def _week_signal(of: _Charted, chart: RejectsChart, position: int, rows: Rows) -> Signal:
    value = float(chart.shares[position])
    above = value > chart.high[position]
    began, seen = of.prints.time_of(int(rows[0])), of.prints.time_of(int(rows[-1]))
    return Signal(
        at=seen,
        chart="p",
        paper=None,
        name=None,
        value=value,
        limit=float(chart.high[position] if above else chart.low[position]),
        near=near(of.changes, began, seen, None),
    )
