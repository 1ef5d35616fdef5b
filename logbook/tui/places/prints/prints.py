"""Prints: the whole history, searched as one types."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Literal, cast

from textual import on, work
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.tui.commands.command import Command
from logbook.tui.frame.hint_line import HintLine
from logbook.tui.places.place import Place
from logbook.tui.places.prints.commands import DeletePrint, WriteLabel
from logbook.tui.places.prints.lines import PrintLines
from logbook.tui.widgets.lists.lines import Lines
from logbook.tui.widgets.lists.search_line import SearchLine

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.history import Line
    from logbook.tui.shell import Shell

Sort = Literal["logged", "time", "title", "paper", "verdict", "darkness"]
SORTS: tuple[Sort, ...] = ("logged", "title", "paper", "verdict", "darkness")
FIRST_HINTS = tuple(Command.registry[name] for name in ("another-print", "undo") if name in Command.registry)
SORT_WORDS = {
    "logged": ("oldest first", "newest first"),
    "time": ("earliest first", "latest first"),
    "title": ("by picture", "by picture, from Z"),
    "paper": ("by paper", "by paper, from Z"),
    "verdict": ("by verdict", "by verdict, from Z"),
    "darkness": ("darkest first", "lightest first"),
}


@dataclass(frozen=True)
class Query:
    """What is looked for, and in which sequence."""

    words: str = ""
    sort: Sort = "logged"
    descending: bool = True


@dataclass(frozen=True)
class Found:
    """How many prints there are and how many match, and the lines from ``first`` on."""

    query: Query
    total: int
    count: int
    first: int
    lines: tuple[Line, ...]


def _prints(app: Shell) -> Prints:
    return cast(Prints, app.place)


class SearchPrints(Command):
    """Search prints by title, paper, note, number, verdict or setting; a word may be cut short."""

    key, label, scope = "slash", "search", "prints"

    async def run(self, app: Shell) -> None:
        app.place.query_one(SearchLine).focus()


class SortPrints(Command):
    """Sort by number, picture, paper, verdict or darkness."""

    key, label, scope = "s", "sort", "prints"

    async def run(self, app: Shell) -> None:
        _prints(app).sort_by_next()


class TurnRound(Command):
    """Turn the list round."""

    key, label, scope, hinted = "S", "turn round", "prints", False

    async def run(self, app: Shell) -> None:
        _prints(app).turn_round()


class Prints(Place[Found]):
    """Every print that was ever logged, the newest first.

    Type / and some letters of a title, a paper, a note, a verdict, a setting, or the number pencilled on the
    back: the list follows as you type. Enter opens the print's page, where its attempts stand side by side.
    """

    PAGES = ("logbook.tui.places.prints.page:PrintPage",)
    COMMANDS_HERE = (SearchPrints, SortPrints, TurnRound, DeletePrint, WriteLabel)
    HINTS = ("one-more-like-this", "judge-it", "another-attempt", "search-prints", "sort-prints", "edit-print",
             "delete-print", "undo")  # fmt: skip

    def __init__(self) -> None:
        super().__init__()
        self._query = Query()
        self._span = (0, 200)
        self._lines = PrintLines(id="history")

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="found")
        yield SearchLine("title, paper, note, number, verdict or setting")
        yield self._lines.headings()
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> Found:
        return self._find(store, self._query, self._span)

    @staticmethod
    def _find(store: Store, query: Query, span: tuple[int, int]) -> Found:
        from logbook.records import Print
        from logbook.store import history, reading

        first, last = span
        lines = history.page(store, query.words, query.sort, descending=query.descending, offset=first, limit=last - first)
        total = reading.count(store, Print)
        count = history.count(store, query.words) if query.words else total
        return Found(query, total, count, first, tuple(lines))

    def show(self, model: Found) -> None:
        if model.query == self._query:
            self.query_one("#found", Static).update(sentence(model))
            self._lines.show_count(model.count, model.first, model.lines)
            self.query_one(HintLine).change(self.hints() if model.total else FIRST_HINTS)

    def chosen_print(self) -> str | None:
        return self._lines.chosen_print

    # Searching and sorting

    def _look_for(self, query: Query) -> None:
        if query != self._query:
            self._query = query
            self._span = (0, 100)
            self._lines.at = 0
            self.ask_again()

    @on(SearchLine.Changed)
    def _searched(self, event: SearchLine.Changed) -> None:
        self._look_for(replace(self._query, words=event.value.strip()))

    @on(SearchLine.Left)
    def _search_left(self) -> None:
        self._lines.focus()

    def sort_by_next(self) -> None:
        """Go on to the next thing to sort by."""
        sort = SORTS[(SORTS.index(self._query.sort) + 1) % len(SORTS)]
        self._look_for(replace(self._query, sort=sort, descending=sort == "logged"))

    def turn_round(self) -> None:
        """Turn the list round."""
        self._look_for(replace(self._query, descending=not self._query.descending))

    # Lines that come into sight

    @on(Lines.Wanted)
    def _wanted(self, event: Lines.Wanted) -> None:
        self._span = (event.first, event.last)
        self._fetch(self._query, self._span)

    @work(exclusive=True, group="look-up")
    async def _fetch(self, query: Query, span: tuple[int, int]) -> None:
        found = await self.logbook.desk.run(lambda store: self._find(store, query, span))
        if query == self._query:
            self._lines.fill(found.first, found.lines)


def sentence(found: Found) -> Content:
    """What was found, and in which sequence."""
    ordered = SORT_WORDS[found.query.sort][found.query.descending]
    if found.total == 0:
        return Content("No print is logged yet. Press n to log the first one.")
    if found.query.words:
        looked_for = plain(found.query.words)
        if found.count == 0:
            return Content(f"No print has “{looked_for}”. Esc shows all {found.total:,} again.")
        return Content(f"{_prints_word(found.count)} of {found.total:,} with “{looked_for}”, {ordered}.")
    return Content(f"{_prints_word(found.count)}, {ordered}.")


def _prints_word(count: int) -> str:
    return "One print" if count == 1 else f"{count:,} prints"
