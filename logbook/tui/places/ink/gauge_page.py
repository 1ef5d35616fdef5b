"""The gauge readings behind a number of the place Ink."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.records.wording import counted, ink_text
from logbook.reports.ink.readings import Asked, Seen
from logbook.reports.month.written.words import short_month
from logbook.tui.places.place import BackFromPage, Place
from logbook.tui.widgets.lists.columns import Column, headings, line
from logbook.tui.widgets.lists.headings import Headings
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.reports.ink.review import InkReview
    from logbook.store import Store

COLUMNS = (
    Column("read", 16),
    Column("ink", 13, share=1),
    Column("level, %", 8, right=True),
    Column("gone", 5, right=True),
    Column("prints", 6, right=True),
    Column("changeovers", 11, right=True),
    Column("cleanings", 9, right=True),
    Column("over", 5, right=True),
)


class BackToInk(BackFromPage):
    """Go back to Ink."""

    key, label, scope = "escape,backspace", "back", "ink"


class GaugePage(Place[list[Seen]]):
    """The gauge readings behind a number, newest first, in ml.

    “Gone” is what the gauge saw go since the level before; beside it what the log says that prints, changeovers and
    cleanings took; “over” is the rest, less what the printer drew by itself and unlogged sheets took: most of it is the
    gauge's rounding. Esc goes back.
    """

    OF = "Ink"
    COMMANDS_HERE = (BackToInk,)
    HINTS = ("back-to-ink", "read-the-gauge", "undo")
    SLOW = True
    DEFAULT_CSS = """
    GaugePage #found { margin: 0 0 1 0; }
    """

    def __init__(self, asked: Asked) -> None:
        super().__init__()
        self.asked = asked
        self._lines: Lines[Seen] = Lines(_draw, empty="No gauge reading is behind this. Press r to log the levels.")

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="found", markup=False)
        yield Headings(self._lines, _heading_line)
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> list[Seen]:
        from logbook.reports.ink.readings import readings_behind
        from logbook.snapshot import take

        return readings_behind(take(store, self.logbook.now().date()), self.asked)

    def show(self, model: list[Seen]) -> None:
        rounds = len({one.at for one in model if not one.start})
        gone = sum(one.fell_ml for one in model)
        said = f"{self.asked.words}: {counted(rounds, 'gauge round')}, {gone:,.0f} ml gone."
        self.query_one("#found", Static).update(Content(plain(said)))
        self._lines.show_rows(model)


def behind(review: InkReview, row: Any) -> Asked:
    """The readings behind a row of the place Ink."""
    from logbook.reports.ink.review import CartridgeRow, ExchangeRow, LevelRow

    if isinstance(row, LevelRow):
        return Asked(f"All of {ink_text(row.level.ink)}", ink=row.level.ink)
    if isinstance(row, CartridgeRow):
        one = row.cartridge
        return Asked(
            f"The {ink_text(one.ink)} put in on {one.installed.day} {one.installed:%b %Y}", ink=one.ink, cartridge=one.id
        )
    if isinstance(row, ExchangeRow):
        change = row.changeover
        return Asked(
            f"{change.from_black.capitalize()} to {change.to_black}, {change.at.day} {change.at:%b %Y}", exchange=change.id
        )
    return Asked(short_month(row.month), month=row.month)


def _heading_line(width: int) -> Content:
    return Content.assemble(" ", headings(COLUMNS, width - 1))


def _draw(row: Seen, width: int) -> Content:
    when = f"{row.at.day:2d} {row.at:%b ’%y %H:%M}"
    if row.before is None:
        return line(
            COLUMNS, [when, ink_text(row.ink), f"{row.percent:.0f}", Content.styled("new", "$quiet"), "", "", "", ""], width
        )
    level = Content.assemble((f"{row.before:.0f}→", "$quiet"), f"{row.percent:.0f}")
    over = f"{row.left_over_ml:+.1f}".replace("-", "−")
    parts = [_ml(ml) for ml in (row.fell_ml, row.prints_ml, row.changeovers_ml, row.cleanings_ml)]
    return line(COLUMNS, [when, ink_text(row.ink), level, *parts, "" if over in ("+0.0", "−0.0") else over], width)


def _ml(ml: float) -> str | Content:
    return f"{ml:.1f}" if abs(ml) >= 0.05 else Content.styled("–", "$quiet")
