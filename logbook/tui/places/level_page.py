"""The prints that one level's numbers come from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual import on, work
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.wording import setting_label
from logbook.tui.commands import Command
from logbook.tui.places.place import Place
from logbook.tui.places.prints_columns import heading_line, print_line
from logbook.tui.widgets.lines import Lines

if TYPE_CHECKING:
    from logbook.reports.darkness_model import SettingAnswer
    from logbook.reports.tone import Query
    from logbook.store import Store
    from logbook.store.history import Line
    from logbook.tui.app import LogbookApp


class BackToTone(Command):
    """Go back to Tone."""

    key, label, scope = "escape,backspace", "back", "tone"

    async def run(self, app: LogbookApp) -> None:
        if isinstance(app.place, LevelPage):
            await app.pop_screen()


@dataclass(frozen=True)
class Found:
    """All prints of a level, and the lines from ``first`` on."""

    ids: tuple[str, ...]
    first: int
    lines: tuple[Line, ...]


class LevelPage(Place[Found]):
    """The prints behind one line of Tone, newest first. Enter opens a print."""

    COMMANDS_HERE = (BackToTone,)
    HINTS = ("back-to-tone", "judge-it", "another-attempt")

    def __init__(self, query: Query, one: SettingAnswer, words: str) -> None:
        super().__init__()
        self.query_asked = query
        self.one = one
        self.words = words
        self._ids: tuple[str, ...] = ()
        self._lines: Lines[Line] = Lines(self._draw, empty="These prints are gone. Esc goes back.")

    def strip_name(self) -> str:
        return "Tone"

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="found", markup=False)
        yield Static("", id="headings", markup=False)
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> Found:
        from logbook.reports import tone

        ids = tuple(tone.prints_at(store, self.query_asked, self.one.setting, self.one.level))
        return Found(ids, 0, _lines(store, ids[:100]))

    def show(self, model: Found) -> None:
        self._ids = model.ids
        count = f"{len(model.ids):,} judged print{'' if len(model.ids) == 1 else 's'}"
        said = f"{setting_label(self.one.setting)} {self.words}: {count}, newest first."
        self.query_one("#found", Static).update(Content(said[:1].upper() + said[1:]))
        self._lines.show_count(len(model.ids), model.first, model.lines)
        self.call_after_refresh(self._show_headings)

    def _show_headings(self) -> None:
        self.query_one("#headings", Static).update(heading_line(self._lines.line_width))

    def on_resize(self) -> None:
        """Other columns may fit."""
        self.call_after_refresh(self._show_headings)

    def chosen_print(self) -> str | None:
        return self._lines.row.id if self._lines.row is not None else None

    def _draw(self, row: Line, width: int) -> Content:
        return print_line(row, width, self.logbook.now().date())

    @on(Lines.Wanted)
    def _wanted(self, event: Lines.Wanted) -> None:
        self._fetch(event.first, event.last)

    @work(exclusive=True, group="look-up")
    async def _fetch(self, first: int, last: int) -> None:
        ids = self._ids[first:last]
        self._lines.fill(first, await self.logbook.desk.run(lambda store: _lines(store, ids)))

    @on(Lines.Chosen)
    async def _chosen(self, event: Lines.Chosen) -> None:
        from logbook.tui.places.print_page import PrintPage

        await self.app.push_screen(PrintPage(event.row.id))


def _lines(store: Store, ids: tuple[str, ...]) -> tuple[Line, ...]:
    from logbook.store import history

    found = (history.line(store, one) for one in ids)
    return tuple(one for one in found if one is not None)
