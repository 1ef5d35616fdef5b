"""The lines of the place Ink: levels, changeovers, months and cartridges, each drawn in one line."""

from __future__ import annotations

import datetime as dt
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from textual.content import Content

from logbook.analysis.ink.account import Account
from logbook.analysis.ink.log import black_of
from logbook.records.text import plain
from logbook.records.units import share_text
from logbook.records.wording import date_text, ink_text
from logbook.reports.ink.review import CartridgeRow, ExchangeRow, InkReview, LevelRow
from logbook.reports.ink.use import DateInterval, InkForecast
from logbook.reports.ink.words import ml_text
from logbook.tui.places.ink.ink_bars import account_bar, account_key, level_bar
from logbook.tui.widgets.lists.columns import Column, headings, line

__all__ = ["MonthRow", "Row", "draw", "heading", "rows_of"]

#: From this width on there is room for what says more.
WIDE = 100


@dataclass(frozen=True)
class MonthRow:
    """Where the ink of one month ("2026-11") went; ``most`` is the month with the most."""

    month: str
    account: Account
    most: float


Row = LevelRow | ExchangeRow | MonthRow | CartridgeRow


def rows_of(review: InkReview, view: str) -> Sequence[Row]:
    """The rows of a view."""
    if view == "changeovers":
        return review.exchanges
    if view == "cartridges":
        return review.cartridges
    if view == "where it went":
        months = review.months or {}
        most = max((one.used for one in months.values()), default=0.0)
        return [MonthRow(month, one, most) for month, one in reversed(list(months.items()))]
    return review.levels


def heading(review: InkReview, view: str, width: int) -> Content:
    """The line above the rows; above the months, what the textures mean."""
    if view == "where it went":
        return account_key()
    return Content.assemble(" ", headings(_COLUMNS[view](width), width - 1))


def draw(review: InkReview, row: Row, width: int) -> Content:
    """One row in ``width`` cells."""
    if isinstance(row, LevelRow):
        return line(_level_columns(width), _level_cells(review, row, width), width)
    if isinstance(row, ExchangeRow):
        return line(_exchange_columns(width), _exchange_cells(row, width), width)
    if isinstance(row, MonthRow):
        return _month_line(row, width)
    return line(_cartridge_columns(width), _cartridge_cells(row, width), width)


def _level_columns(width: int) -> list[Column]:
    columns = [Column("ink", 15), Column("level", 16)]
    if width < WIDE:
        return [*columns, Column("prints", 6, right=True), Column("lasts until", 22, share=1), Column("orders", 7, right=True)]
    columns += [Column("ml", 4, right=True), Column("prints left", 20, right=True)]
    return [*columns, Column("lasts until", 24, share=1), Column("open orders", 11, right=True)]


def _level_cells(review: InkReview, row: LevelRow, width: int) -> list[str | Content]:
    level, reach = row.level, row.reach
    wide = width >= WIDE
    shared = review.printer is not None and review.printer.shared_black_slot and black_of(level.ink) is not None
    name = Content.assemble(ink_text(level.ink), (" in" if level.loaded else " out", "$quiet") if shared else "")
    nothing: list[str | Content] = [""] * (4 if wide else 3)
    if level.percent is None:
        return [name, Content.styled("not read yet", "$quiet"), *nothing]
    bar = level_bar(level.percent, loaded=level.loaded)
    if reach is None:
        return [name, bar, *nothing]
    left = reach.prints_left
    prints = "–" if left is None else f"{left.value:,.0f}"
    if left is not None and wide:
        prints += f" ({left.low:,.0f}–{left.high:,.0f})"
    missed = Content.styled(f"{len(row.missed)} short", "$asks") if row.missed else Content.styled("enough", "$quiet")
    return [name, bar, *([f"{reach.level_ml:.0f}"] if wide else []), prints, _until(review, reach, wide=wide), missed]


def _until(review: InkReview, reach: InkForecast, *, wide: bool) -> str | Content:
    """The date on which an ink runs out, with the ends of its interval; to the month where room is short."""
    out = reach.runs_out
    if out is None:
        return "–"
    day = date_text(out.value, review.today)
    if wide:
        return Content.assemble(day, (f" ({date_text(out.low, review.today)}–{date_text(out.high, review.today)})", "$quiet"))
    far = day.endswith(str(out.value.year))  # the year stands with it, and leaves no room for the day
    return Content.assemble(f"{out.value:%b’%y}" if far else day, (f" ({_months(out, review.today)})", "$quiet"))


def _months(out: DateInterval, today: dt.date) -> str:
    """The months of both ends, in the little room there is; the year once where it is the same."""
    ends = f"–{out.high:%b}" if out.high.year == today.year else f"–{out.high:%b’%y}"
    begins = f"{out.low:%b}" if out.low.year in (today.year, out.high.year) else f"{out.low:%b’%y}"
    return begins + ends


def _exchange_columns(width: int) -> list[Column]:
    columns = [
        Column("when", 17),
        Column("", 14),
        Column("measured", 8, right=True),
        Column("wastes, as estimated", 22, right=True),
    ]
    more = [Column("minutes", 7, right=True), Column("cleanings", 9, right=True)] if width >= WIDE else []
    return [*columns, Column("money", 7, right=True), *more]


def _exchange_cells(row: ExchangeRow, width: int) -> list[str | Content]:
    one = row.changeover
    measured = Content.styled("not read", "$quiet") if row.measured_ml is None else f"{row.measured_ml:.0f} ml"
    estimate = "–" if row.estimated_ml is None else ml_text(row.estimated_ml)
    money = "–" if row.cost is None else f"{row.cost.value:,.2f}"
    more = [_number(one.minutes), _number(one.cleanings)] if width >= WIDE else []
    cells: list[str | Content] = [
        f"{one.at.day:2d} {one.at:%b %Y %H:%M}",
        f"{one.from_black} → {one.to_black}",
        measured,
        estimate,
        money,
    ]
    return [*cells, *more]


def _month_line(row: MonthRow, width: int) -> Content:
    share = row.account.changeovers / row.account.used if row.account.used > 0 else 0.0
    room = max(10, width - 28)
    return Content.assemble(
        (f"{dt.date.fromisoformat(f'{row.month}-01'):%b %Y}  ", "$quiet"),
        account_bar(row.account, row.most, room),
        f"  {row.account.used:5,.0f} ml",
        (f"  {share_text(share):>5}", "$quiet"),
    )


def _cartridge_columns(width: int) -> list[Column]:
    columns = [
        Column("ink", 13),
        Column("", 3),
        Column("put in", 10),
        Column("days", 4, right=True),
        Column("used", 13, right=True),
        Column("price", 7, right=True),
    ]
    return [*columns, Column("per ml", 6, right=True), Column("lot", 8, share=1)]


def _cartridge_cells(row: CartridgeRow, width: int) -> list[str | Content]:
    one = row.cartridge
    used = "not read" if row.used_ml is None else f"{row.used_ml:.0f} of {one.nominal_ml * one.start_percent / 100:.0f} ml"
    price = "–" if one.price is None else f"{one.price:,.2f}"
    a_ml = "–" if one.price is None else f"{one.price / one.nominal_ml:.2f}"
    name = ink_text(one.ink)
    style = "" if row.in_printer else "$quiet"
    shown = [Content.styled(words, style) for words in (name, "in" if row.in_printer else "out")]
    installed = f"{one.installed.day:2d} {one.installed:%b ’%y}"
    return [*shown, installed, f"{row.days}", used, price, a_ml, plain(one.lot or "")]


def _number(value: float | None) -> str:
    return "–" if value is None else f"{value:.0f}"


_COLUMNS: dict[str, Callable[[int], list[Column]]] = {
    "levels": _level_columns,
    "changeovers": _exchange_columns,
    "cartridges": _cartridge_columns,
}
