"""The month's pictures out of letters: what is told by a shade is told by its texture and a figure too."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content

from logbook.records.darkness import stops_text
from logbook.records.numbering import padded
from logbook.records.wording import MONTHS
from logbook.reports.month.model import DarknessSeries, MonthRow, RejectsSeries
from logbook.reports.month.written.words import figure

__all__ = ["bars", "beside", "darkness_plot", "keepers_plot", "weeks_plot"]

KEPT, MADE = "█", "░"
SHADES = ("█", "▒", "░")
MOST_COLUMN = 7
LABEL = 7
OUT = "▲"
QUIET_SIGNS = "┈╌├┤"


def keepers_plot(rows: Sequence[MonthRow], width: int, height: int = 7) -> list[Content]:
    """One bar a month: all its prints, the keepers in it solid; the number of prints above."""
    widest = max((len(str(row.prints)) for row in rows), default=0)
    column = max(min(MOST_COLUMN, width // max(len(rows), 1)), 4, widest + 1)
    shown = rows[-max(width // column, 1) :]
    most = max((row.prints for row in shown), default=0) or 1
    lines = [_bar_line(shown, level, height, most, column) for level in range(height, -1, -1)]
    names = "".join(f"{MONTHS[int(row.month[5:]) - 1][:3]:^{column}}" for row in shown)
    return [*lines, Content.styled(names, "$quiet"), Content.styled(f"{KEPT} kept  {MADE} printed", "$quiet")]


def _bar_line(rows: Sequence[MonthRow], level: int, height: int, most: int, column: int) -> Content:
    """The cells at one level (0 the lowest) of every bar; just above a bar stands its number."""
    cells = []
    for row in rows:
        made, kept = (round(count / most * height) for count in (row.prints, row.keepers))
        if level == made:
            cells.append(f"{row.prints:^{column}}")
        elif level < made:
            cells.append(f"{(KEPT if level < kept else MADE) * (column - 2):^{column}}")
        else:
            cells.append(" " * column)
    return Content("".join(cells))


def bars(parts: Sequence[tuple[str, float | None]], width: int, digits: int = 2) -> list[Content]:
    """Horizontal bars with their names and figures; what is not known has a dash and no bar."""
    most = max((value or 0.0 for _, value in parts), default=0.0) or 1.0
    name_width = max(len(name) for name, _ in parts)
    room = max(width - name_width - 14, 8)
    made = []
    for place, (name, value) in enumerate(parts):
        bar = SHADES[place % len(SHADES)] * round((value or 0.0) / most * room)
        gap = " " if bar else ""
        made.append(Content.assemble((f"{name:<{name_width}}  ", "$quiet"), bar, gap, figure(value, digits)))
    return made


def darkness_plot(series: DarknessSeries, width: int, height: int = 9) -> list[Content]:
    """Every print's darkness (·), the moving average (●; ▲ where it is out), and the limits (╌), in stops."""
    columns = max(width - LABEL, 10)
    points = series.points[-columns:]
    apart = max(min((columns - 1) // max(len(points) - 1, 1), 3), 1)
    seen = [series.low, series.high, 0.0]
    seen += [value for point in points for value in (point.darkness_stops, point.average_stops)]
    grid = _Grid(min(seen), max(seen), columns, height)
    grid.rule(0.0, "┈", "0")
    grid.rule(series.low, "╌", stops_text(series.low))
    grid.rule(series.high, "╌", stops_text(series.high))
    for place, point in enumerate(points):
        grid.put(place * apart, point.darkness_stops, "·")
    for place, point in enumerate(points):
        grid.put(place * apart, point.average_stops, OUT if point.out else "●")
    span = f"no. {padded(points[0].number)}" + (f" to {padded(points[-1].number)}" if len(points) > 1 else "")
    return [*grid.lines(), Content.styled(f"{'':{LABEL}}{span}", "$quiet")]


def weeks_plot(series: RejectsSeries, width: int) -> list[Content]:
    """The share of redo and scrap of each week as a point between its limits, one line a week."""
    room = max(width - 38, 20)
    made = []
    for week in series.weeks:
        cells = ["┈"] * (room + 1)
        for share, sign in ((week.low, "├"), (week.high, "┤"), (week.share, OUT if week.out else "●")):
            cells[round(share * room)] = sign
        days = f"{week.first.day}–{week.last.day} {MONTHS[week.last.month - 1][:3]}"
        told = f"{100 * week.share:3.0f} %  {week.rejects} of {week.prints}"
        made.append(Content.assemble((f"{days:>10}  ", "$quiet"), *_inked("".join(cells)), f"  {told}"))
    return made


def beside(left: Sequence[Content], right: Sequence[Content], left_width: int, gap: int = 4) -> list[Content]:
    """Two blocks of lines side by side, the left one ``left_width`` cells wide."""
    made = []
    for place in range(max(len(left), len(right))):
        line = left[place] if place < len(left) else Content("")
        other = right[place] if place < len(right) else Content("")
        made.append(Content.assemble(line, " " * max(left_width - line.cell_length + gap, 1), other))
    return made


class _Grid:
    """Cells of a plot; ``low`` and ``high`` are the values of its lowest and highest line."""

    def __init__(self, low: float, high: float, columns: int, height: int) -> None:
        self._low = low
        self._step = ((high - low) or 1.0) / (height - 1)
        self._cells = [[" "] * columns for _ in range(height)]
        self._labels = [""] * height

    def put(self, column: int, value: float, sign: str) -> None:
        """A sign in the column, at the line nearest to the value."""
        self._cells[self._line(value)][column] = sign

    def rule(self, value: float, sign: str, label: str) -> None:
        """A line across at the value, with its label at the left."""
        line = self._line(value)
        self._cells[line] = [sign] * len(self._cells[line])
        self._labels[line] = label

    def lines(self) -> list[Content]:
        """The plot from its highest line down."""
        drawn = zip(self._labels, self._cells, strict=True)
        made = [Content.assemble((f"{label:>{LABEL - 1}} ", "$quiet"), *_inked("".join(cells))) for label, cells in drawn]
        return made[::-1]

    def _line(self, value: float) -> int:
        return round((value - self._low) / self._step)


def _inked(line: str) -> list[tuple[str, str]]:
    """The line in pieces: rules quiet, what is out in the accent, the rest as it is."""
    pieces: list[tuple[str, str]] = []
    for sign in line:
        style = "$quiet" if sign in QUIET_SIGNS else "$asks" if sign == OUT else ""
        if pieces and pieces[-1][1] == style:
            pieces[-1] = (pieces[-1][0] + sign, style)
        else:
            pieces.append((sign, style))
    return pieces
