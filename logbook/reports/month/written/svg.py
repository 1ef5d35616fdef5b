"""The month's pictures as SVG: prints and keepers, darkness with its limits, redo and scrap, where the money went.

Drawn 360 units wide, which is a phone's width, so that the lettering stays readable there. What is told by a shade is
told by a texture or a word as well.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from logbook.records.darkness import stops_text
from logbook.records.numbering import padded
from logbook.records.wording import MONTHS
from logbook.reports.month.model import DarknessSeries, MonthAnswer, MonthRow, RejectsSeries
from logbook.reports.month.written.words import figure, ink_parts, money_parts, month_title
from logbook.reports.shared.markup import Node, element

__all__ = ["darkness_chart", "hatches", "keepers_chart", "rejects_chart", "spending_chart"]

WIDTH = 360
LEFT, RIGHT, TOP, BOTTOM = 42, 8, 16, 22
# Where the bars begin, right of their names.
NAMES = 140
Scale = Callable[[float], float]


def hatches() -> Node:
    """The textures that the pictures share; to be put once into a page."""
    line = element("path", d="M0 6 L6 0 M-1 1 L1 -1 M5 7 L7 5", class_="hatch")
    pattern = element("pattern", line, id="hatch", width=6, height=6, patternUnits="userSpaceOnUse")
    return element("svg", element("defs", pattern), width=0, height=0, aria_hidden="true", class_="textures")


def keepers_chart(answer: MonthAnswer) -> Node:
    """Prints of each month as a bar, the keepers in it filled."""
    rows: Sequence[MonthRow] = (*answer.before, answer)
    height, most = 170, max((row.prints for row in rows), default=0) or 1
    y = _scale(0, most, height - BOTTOM, TOP)
    step = (WIDTH - LEFT - RIGHT) / len(rows)
    parts: list[Node] = [_baseline(y(0))]
    for place, row in enumerate(rows):
        x = LEFT + place * step
        parts += _keeper_bar(row, x + 0.12 * step, 0.76 * step, y)
        name = MONTHS[int(row.month[5:]) - 1][:3]
        parts.append(_text(name, x + step / 2, height - 8, "middle", "label"))
    said = "; ".join(f"{month_title(row.month)}: {row.keepers} kept of {row.prints}" for row in rows)
    return _picture(height, f"Prints and keepers by month. {said}", parts)


def darkness_chart(series: DarknessSeries) -> Node:
    """One paper's darkness, print by print, with its moving average between the limits."""
    height = 150
    seen = [point.darkness_stops for point in series.points] + [series.low, series.high, 0.0]
    y = _scale(min(seen) - 0.1, max(seen) + 0.1, height - BOTTOM, TOP)
    x = _scale(0, max(len(series.points) - 1, 1), LEFT + 8, WIDTH - RIGHT - 8)
    parts = [_rule(y(0.0), "zero"), _rule(y(series.low), "limit"), _rule(y(series.high), "limit")]
    parts += [_text(stops_text(at), LEFT - 4, y(at) + 3, "end", "label") for at in (series.low, series.high)]
    for i, point in enumerate(series.points):
        parts.append(element("circle", cx=x(i), cy=y(point.darkness_stops), r=2, class_="seen"))
    path = " L".join(f"{x(i):.1f} {y(point.average_stops):.1f}" for i, point in enumerate(series.points))
    parts.append(element("path", d=f"M{path}", class_="average"))
    parts += [_mark(x(i), y(point.average_stops)) for i, point in enumerate(series.points) if point.out]
    first, last = series.points[0].number, series.points[-1].number
    parts.append(_text(f"no. {padded(first)}", LEFT, height - 8, "start", "label"))
    if len(series.points) > 1:
        parts.append(_text(padded(last), WIDTH - RIGHT, height - 8, "end", "label"))
    out = sum(point.out for point in series.points)
    said = (
        f"{series.name}: darkness of {len(series.points)} prints in stops, its average from "
        f"{stops_text(series.points[0].average_stops)} to {stops_text(series.points[-1].average_stops)}, "
        f"limits {stops_text(series.low)} and {stops_text(series.high)}, {out} outside"
    )
    return _picture(height, said, parts)


def rejects_chart(series: RejectsSeries) -> Node:
    """The share of redo and scrap of each week between its limits."""
    height = 150
    y = _scale(0.0, 1.0, height - BOTTOM, TOP)
    step = (WIDTH - LEFT - RIGHT) / len(series.weeks)
    parts = [_baseline(y(0)), _rule(y(series.average), "zero")]
    parts += [_text(f"{share:.0%}", LEFT - 4, y(share) + 3, "end", "label") for share in (0.0, 0.5, 1.0)]
    for place, week in enumerate(series.weeks):
        x = LEFT + place * step
        for limit in (week.low, week.high):
            parts.append(element("line", x1=x + 4, x2=x + step - 4, y1=y(limit), y2=y(limit), class_="limit"))
        middle = x + step / 2
        point = element("circle", cx=middle, cy=y(week.share), r=3, class_="kept")
        parts.append(_mark(middle, y(week.share)) if week.out else point)
        parts.append(_text(f"{week.rejects} of {week.prints}", middle, y(week.share) - 8, "middle", "value"))
        parts.append(_text(f"{week.first.day}–{week.last.day}", middle, height - 8, "middle", "label"))
    said = "; ".join(f"{week.first} to {week.last}: {week.rejects} of {week.prints}" for week in series.weeks)
    return _picture(height, f"Redo and scrap by week, usually {series.average:.0%}. {said}", parts)


def spending_chart(answer: MonthAnswer) -> Node:
    """Where money and ink went in the month."""
    money, ink = money_parts(answer), ink_parts(answer)
    parts = [*_bars("money", money, 2, 0), *_bars("ink, ml", ink, 1, 84)]
    said = ", ".join(f"{name} {figure(value)}" for name, value in money)
    used = ", ".join(f"{name} {figure(value, 1)}" for name, value in ink)
    return _picture(172, f"Money: {said}. Ink in ml: {used}", parts)


def _keeper_bar(row: MonthRow, x: float, width: float, y: Scale) -> list[Node]:
    if not row.prints:
        return [_text("0", x + width / 2, y(0) - 4, "middle", "label")]
    made = element("rect", x=x, y=y(row.prints), width=width, height=y(0) - y(row.prints), class_="made")
    kept = element("rect", x=x, y=y(row.keepers), width=width, height=y(0) - y(row.keepers), class_="kept")
    return [made, kept, _text(str(row.prints), x + width / 2, y(row.prints) - 4, "middle", "value")]


def _bars(title: str, parts: Sequence[tuple[str, float | None]], digits: int, top: float) -> list[Node]:
    """Horizontal bars under a title, the name at the left and the figure at the end."""
    most = max((value or 0.0 for _, value in parts), default=0.0) or 1.0
    x = _scale(0, most, NAMES, WIDTH - 62)
    drawn = [_text(title, 0, top + 12, "start", "value")]
    for place, (name, value) in enumerate(parts):
        y = top + 20 + place * 20
        drawn.append(_text(name, 0, y + 11, "start", "label"))
        if value is not None:
            drawn.append(element("rect", x=NAMES, y=y, width=max(x(value) - NAMES, 0.5), height=14, class_=_SHADES[place]))
        drawn.append(_text(figure(value, digits), (x(value) if value else NAMES) + 5, y + 11, "start", "value"))
    return drawn


_SHADES = ("kept", "made", "hatched")


def _scale(low: float, high: float, start: float, end: float) -> Scale:
    """From values between ``low`` and ``high`` to places between ``start`` and ``end``."""
    reach = (high - low) or 1.0
    return lambda value: start + (value - low) / reach * (end - start)


def _mark(x: float, y: float) -> Node:
    """A signal: a filled triangle, which no other point has."""
    return element("path", d=f"M{x:.1f} {y - 5:.1f} l5 9 h-10 z", class_="signal")


def _rule(y: float, kind: str) -> Node:
    return element("line", x1=LEFT, x2=WIDTH - RIGHT, y1=y, y2=y, class_=kind)


def _baseline(y: float) -> Node:
    return _rule(y, "base")


def _text(text: str, x: float, y: float, anchor: str, kind: str) -> Node:
    return element("text", text, x=x, y=y, text_anchor=anchor, class_=kind)


def _picture(height: float, said: str, parts: Sequence[Node]) -> Node:
    return element("svg", *parts, viewBox=f"0 0 {WIDTH} {height}", role="img", aria_label=said)
