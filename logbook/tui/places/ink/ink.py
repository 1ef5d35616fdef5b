"""Ink: what is left, what changeovers waste, and where the ink went."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.tui.commands.command import Command
from logbook.tui.commands.open_form import open_form
from logbook.tui.places.place import Place, TurnViews
from logbook.tui.widgets.lists.headings import Headings
from logbook.tui.widgets.lists.lines import Lines
from logbook.tui.widgets.lists.view_names import ViewNames

if TYPE_CHECKING:
    from logbook.reports.ink.review import InkReview
    from logbook.store import Store
    from logbook.tui.shell import Shell

#: A screen lower than this keeps its room for the lines.
LOW = 30
VIEWS = ("levels", "changeovers", "where it went", "cartridges")

WHEN_EMPTY = {
    "levels": "Describe the printer on Shelf (7): then its inks stand here.",
    "changeovers": "No changeover is logged yet. Press c when you exchange the black.",
    "where it went": "Two rounds of levels tell where ink went. Press r to read the gauge.",
    "cartridges": "No cartridge is logged yet. Press w when you put a new one in.",
}


class NextInkView(TurnViews):
    """Go on to levels, changeovers, where the ink went, and cartridges."""

    key, label, scope = "tab,y", "next view", "ink"


class InkViewBefore(TurnViews):
    """Go back to the view before."""

    key, label, scope, hinted = "shift+tab,Y", "view before", "ink", False
    by = -1


class WeighACartridge(Command):
    """Say what was left in a cartridge that came out, or weigh it: all millilitres rest on what a cartridge holds."""

    key, label, scope = "W", "weigh a cartridge", "ink"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.ink.weigh import WeighForm, read

        await open_form(app, read, WeighForm)


class Ink(Place["InkReview"]):
    """What is left of every ink, what exchanging the black wastes, and where all the ink went.

    Tab goes through four views: the levels and how far they reach; every changeover, measured or estimated; each month's
    ink, by texture: █ prints, ▒ changeovers, ░ cleanings, · the printer by itself, ▚ sheets nobody logged, ╌ unexplained,
    with the part that changeovers took; and the cartridges with their age and cost. Enter on a line opens the gauge
    readings behind its numbers. The range in brackets holds the truth nine times in ten. The loaded black is marked “in”;
    the other is “out”, its level drawn thin. r types a round of levels as one row of numbers. A cartridge that nobody
    logged counts from its first reading, with the printer's own volume; W says what was left in one that came out. E shows
    all that was logged for a day, to put it right.
    """

    PAGES = ("logbook.tui.places.ink.gauge_page:GaugePage",)
    COMMANDS_HERE = (NextInkView, InkViewBefore, WeighACartridge)
    HINTS = ("next-ink-view", "read-the-gauge", "exchange-the-black", "new-cartridge", "head-cleaning", "undo")
    SLOW = True
    DEFAULT_CSS = """
    Ink #said { height: auto; max-height: 12; padding: 0 0 1 0; }
    Ink.-low #said { max-height: 8; }
    Ink ViewNames { margin: 0 0 1 0; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._review: InkReview | None = None
        self._lines: Lines[Any] = Lines(self._draw)

    def body(self) -> ComposeResult:
        yield Static("", id="said", markup=False)
        yield ViewNames(VIEWS)
        yield Headings(self._lines, self._heading)
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list; it follows which view is open."""
        self._lines.focus()
        self.watch(self.query_one(ViewNames), "opened", self._show_view, init=False)

    def read(self, store: Store) -> InkReview:
        from logbook.reports.ink.review import review
        from logbook.snapshot import take

        return review(take(store, self.logbook.now().date()))

    def show(self, model: InkReview) -> None:
        self._review = model
        self._show_rows()

    def show_failure(self, sentence: str) -> None:
        self.query_one("#said", Static).update(Content(plain(sentence)))

    def _show_view(self) -> None:
        self._lines.at = 0
        self._show_rows()

    def on_resize(self) -> None:
        """A low screen says less above the lines."""
        self.set_class(self.size.height < LOW, "-low")

    def _show_rows(self) -> None:
        if self._review is None:
            return
        from logbook.reports.ink.review import changeover_sentences, review_sentences
        from logbook.reports.ink.where import where_it_went
        from logbook.tui.places.ink.rows import rows_of

        view = self.query_one(ViewNames).opened
        said = review_sentences(self._review)
        if view == "where it went":
            said = where_it_went(self._review.answer) or said
        elif view == "changeovers" and self._review.exchanges:
            said = changeover_sentences(self._review)
        self.query_one("#said", Static).update(Content("\n".join(map(plain, said))))
        self._lines.say_when_empty(WHEN_EMPTY[view])
        self._lines.show_rows(rows_of(self._review, view))
        self.query_one(Headings).refresh()

    def _heading(self, width: int) -> Content:
        from logbook.tui.places.ink.rows import heading

        return heading(self._review, self.query_one(ViewNames).opened, width) if self._review is not None else Content("")

    def _draw(self, row: Any, width: int) -> Content:
        from logbook.tui.places.ink.rows import draw

        return draw(self._review, row, width) if self._review is not None else Content("")

    @on(Lines.Chosen)
    async def _chosen(self, event: Lines.Chosen) -> None:
        from logbook.tui.places.ink.gauge_page import GaugePage, behind

        if self._review is not None and self._review.printer is not None:
            await self.app.push_screen(GaugePage(behind(self._review, event.row)))
