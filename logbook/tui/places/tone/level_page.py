"""The prints that one level's numbers come from."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual import on, work
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.wording import counted, setting_label
from logbook.tui.places.place import BackFromPage, Place
from logbook.tui.places.prints.lines import PrintLines
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.reports.darkness.model import ContrastAnswer
    from logbook.reports.darkness.tone import Query
    from logbook.store import Store
    from logbook.store.history import Line


class BackToTone(BackFromPage):
    """Go back to Tone."""

    key, label, scope = "escape,backspace", "back", "tone"


@dataclass(frozen=True)
class Found:
    """All prints of a level, and the lines from ``first`` on."""

    ids: tuple[str, ...]
    first: int
    lines: tuple[Line, ...]


class LevelPage(Place[Found]):
    """The prints behind one line of Tone, newest first. Enter opens a print."""

    OF = "Tone"
    COMMANDS_HERE = (BackToTone,)
    HINTS = ("back-to-tone", "judge-it", "another-attempt")
    DEFAULT_CSS = """
    LevelPage #found { margin: 0 0 1 0; }
    """

    def __init__(self, query: Query, one: ContrastAnswer, words: str) -> None:
        super().__init__()
        self.query_asked = query
        self.one = one
        self.words = words
        self._ids: tuple[str, ...] = ()
        self._lines = PrintLines(empty="These prints are gone. Esc goes back.")

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="found", markup=False)
        yield self._lines.headings()
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> Found:
        from logbook.reports.darkness import tone
        from logbook.snapshot import take

        ids = tuple(tone.prints_at(take(store), self.query_asked, self.one.setting, self.one.level))
        return Found(ids, 0, _lines(store, ids[:100]))

    def show(self, model: Found) -> None:
        self._ids = model.ids
        count = counted(len(model.ids), "judged print")
        said = f"{setting_label(self.one.setting)} {self.words}: {count}, newest first."
        self.query_one("#found", Static).update(Content(said[:1].upper() + said[1:]))
        self._lines.show_count(len(model.ids), model.first, model.lines)

    def chosen_print(self) -> str | None:
        return self._lines.chosen_print

    @on(Lines.Wanted)
    def _wanted(self, event: Lines.Wanted) -> None:
        self._fetch(event.first, event.last)

    @work(exclusive=True, group="look-up")
    async def _fetch(self, first: int, last: int) -> None:
        ids = self._ids[first:last]
        self._lines.fill(first, await self.logbook.desk.run(lambda store: _lines(store, ids)))


def _lines(store: Store, ids: tuple[str, ...]) -> tuple[Line, ...]:
    from logbook.store import history

    found = (history.line(store, one) for one in ids)
    return tuple(one for one in found if one is not None)
