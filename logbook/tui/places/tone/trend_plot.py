"""Darkness over time as a plot, with calibrations and new cartridges marked."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterable, Sequence

from textual_plot import HiResMode, PlotWidget
from textual_plot.axis_formatter import AxisFormatter

from logbook.analysis.darkness.trend import TrendPoint
from logbook.reports.darkness.tone import CALIBRATED, INSTALLED, Mark

_EPOCH = dt.date(1970, 1, 1)
LABEL_ROOM = 0.05
"""The share of the time at its end where a label would be cut."""


class DayFormatter(AxisFormatter):
    """Days since 1970 as months, at the first of each."""

    def get_ticks(self, min_: float, max_: float, max_ticks: int = 8) -> list[float]:
        """The first days of the months in sight, as many as there is room for."""
        day = (_EPOCH + dt.timedelta(days=int(min_))).replace(day=1)
        last = _EPOCH + dt.timedelta(days=int(max_))
        firsts = []
        while day <= last:
            firsts.append(float((day - _EPOCH).days))
            day = (day + dt.timedelta(days=32)).replace(day=1)
        seen = [one for one in firsts if min_ <= one <= max_ - LABEL_ROOM * (max_ - min_)]
        step = max(1, -(-len(seen) // max(1, max_ticks)))
        return seen[::step]

    def get_labels_for_ticks(self, ticks: Sequence[float]) -> list[str]:
        """Month and year."""
        return [f"{_EPOCH + dt.timedelta(days=int(one)):%b ’%y}" for one in ticks]


class StopsFormatter(AxisFormatter):
    """Stops in thirds."""

    def get_ticks(self, min_: float, max_: float, max_ticks: int = 8) -> list[float]:
        """Every third of a stop, or every stop where there is no room for that."""
        every = 1 if (max_ - min_) * 3 <= max_ticks else 3
        return [thirds / 3 for thirds in range(-9, 10) if min_ <= thirds / 3 <= max_ and thirds % every == 0]

    def get_labels_for_ticks(self, ticks: Sequence[float]) -> list[str]:
        """Signed, two decimals."""
        return [f"{one:+.2f}".replace("-", "−") if one else "0" for one in ticks]


class TrendPlot(PlotWidget):
    """Averages with their 90 % intervals; vertical lines are calibrations, ▾ new cartridges."""

    DEFAULT_CSS = """
    TrendPlot { height: 1fr; min-height: 10; background: $background; }
    TrendPlot > .plot--axis { color: $rule; }
    TrendPlot > .plot--tick { color: $quiet; }
    TrendPlot > .plot--label { color: $quiet; }
    """

    def __init__(self, id: str | None = None) -> None:
        super().__init__(id=id, allow_pan_and_zoom=False)
        self.can_focus = False
        self.set_reactive(PlotWidget.margin_top, 1)
        self.set_reactive(PlotWidget.margin_left, 7)
        self.set_x_formatter(DayFormatter())
        self.set_y_formatter(StopsFormatter())

    def show(self, points: Sequence[TrendPoint], marks: Iterable[Mark]) -> None:
        """Draw the averages and the marks."""
        self.clear()
        self._v_lines.clear()
        self._v_lines_labels.clear()
        if not points:
            return
        quiet, ink = self._colour("rule"), self._colour("foreground")
        days = [one.day for one in points]
        values = [one.darkness.value for one in points]
        half = [one.darkness.width / 2 for one in points]
        ends = [value + sign * h for value, h in zip(values, half, strict=True) for sign in (-1, 1)]
        top = min(max(*ends, 0.4), 2.2)
        changes = [(float((mark.day - _EPOCH).days), mark.sign) for mark in marks]
        for day in sorted({day for day, sign in changes if sign == CALIBRATED}):
            self.add_v_line(day, line_style=ink)
        self.plot([min(days) - 20, max(days) + 20], [0.0, 0.0], line_style=quiet, hires_mode=HiResMode.BRAILLE)
        installed = [day for day, sign in changes if sign == INSTALLED]
        if installed:
            self.scatter(installed, [top] * len(installed), marker=INSTALLED, marker_style=ink)
        self.errorbar(days, values, yerr=half, marker="●", marker_style=ink)
        self.set_xlimits(min(days) - 20, max(days) + 20)
        self.set_ylimits(max(min(*ends, -0.4), -2.2), top + 0.15)

    def _colour(self, name: str) -> str:
        """A colour of the theme as the plot's styles know it."""
        return self.app.get_css_variables().get(name, "default").removeprefix("ansi_")
