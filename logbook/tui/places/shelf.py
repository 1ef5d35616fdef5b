"""Shelf: papers and their stock, lights, screens, the printer and its bench times."""

from __future__ import annotations

from collections.abc import Sequence
from functools import partial
from typing import TYPE_CHECKING, cast

from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.tui.commands.command import Command
from logbook.tui.commands.open_form import open_form
from logbook.tui.places.place import Place
from logbook.tui.widgets.lists.columns import Column, line, name_cut
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.reports.bench.shelf import Row
    from logbook.reports.bench.shelf import Shelf as ShelfModel
    from logbook.store import Store
    from logbook.tui.shell import Shell

ROOMY = 100
"""From this width on there is room for longer names."""
COLUMNS = (Column("", 22), Column("", 24, share=1), Column("", 14, right=True))
ROOMY_COLUMNS = (Column("", 28), Column("", 24, share=1), Column("", 14, right=True))


def _shelf(app: Shell) -> Shelf:
    return cast(Shelf, app.place)


class ChangeIt(Command):
    """Change what is known of this paper, light, screen or printer. Enter does it too."""

    key, label, scope = "e", "change it", "shelf"

    async def run(self, app: Shell) -> None:
        await _shelf(app).change_it()


class AddOne(Command):
    """Add one more of this kind: a paper, a roll, a light, a screen, a printer."""

    key, label, scope = "plus", "add one", "shelf"

    async def run(self, app: Shell) -> None:
        await _shelf(app).add_one()


class RemoveIt(Command):
    """Take this off the shelf; refused, with the count, while prints use it."""

    key, label, scope = "d", "remove it", "shelf"

    async def run(self, app: Shell) -> None:
        from logbook.actions import shelf
        from logbook.records import KINDS

        row = _shelf(app).row
        if row is not None and row.id is not None:
            await app.save(partial(shelf.remove, kind=KINDS[row.kind], record_id=row.id))


class FinishIt(Command):
    """This roll or box is finished; on a finished one, it is in use after all."""

    key, label, scope = "z", "roll is finished", "shelf"

    async def run(self, app: Shell) -> None:
        from logbook.actions import stock

        row = _shelf(app).row
        if row is None or row.kind != "stock" or row.id is None:
            app.say("Put the cursor on the roll or box that is finished.")
            return
        await app.save(partial(stock.open_again if row.finished else stock.finish, stock=row.id))


class ReadAWedge(Command):
    """Note which step of a printed wedge this paper keeps apart from black."""

    key, label, scope = "W", "read a wedge", "shelf"

    async def run(self, app: Shell) -> None:
        from logbook.tui.forms.record_form import adding, made_as_read

        paper = _shelf(app).chosen_paper()
        if paper is None:
            app.say("Put the cursor on the paper that the wedge is printed on.")
            return
        await open_form(app, partial(adding, kind="wedge", paper=paper), made_as_read)


class Shelf(Place["ShelfModel"]):
    """Papers and their stock, lights, screens, the printer and its bench times.

    Enter changes the line under the cursor, + adds one more of its kind, d removes it. What is left of a roll is
    worked out from the prints. f opens a fresh roll of the paper under the cursor, z says that one is finished,
    W notes the reading of a printed wedge. @ is the address at which the printer tells its ink levels, M says which
    of its supplies is which ink. I brings in a table of your own prints, N notes those of an old notebook.
    """

    PAGES = ("logbook.tui.places.moving_in:MovingIn",)
    COMMANDS_HERE = (ChangeIt, AddOne, RemoveIt, FinishIt, ReadAWedge)
    HINTS = ("change-it", "add-one", "fresh-roll-or-box", "finish-it", "read-a-wedge", "remove-it", "move-in", "undo")

    def __init__(self) -> None:
        super().__init__()
        self._lines: Lines[Row] = Lines(self._draw, id="things")
        self._adding = ""
        self._known: frozenset[tuple[str, str | None]] = frozenset()

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="said")
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> ShelfModel:
        from logbook.reports.bench.shelf import answer
        from logbook.snapshot import take

        return answer(take(store, self.logbook.now().date()))

    def show(self, model: ShelfModel) -> None:
        from logbook.reports.bench.shelf import sentence

        self.query_one("#said", Static).update(Content(sentence(model)))
        before = self.row
        self._lines.show_rows(model.rows)
        self._follow(before, model.rows)

    def _follow(self, before: Row | None, rows: Sequence[Row]) -> None:
        """The cursor stays on the thing it stood on, or goes to the one just added; at first it stands on the first thing."""
        known, self._known = self._known, frozenset((row.kind, row.id) for row in rows)
        if before is None:
            self._lines.at = 1
            return
        added = [at for at, row in enumerate(rows) if row.id and row.kind == self._adding and (row.kind, row.id) not in known]
        if added:
            self._adding = ""
            self._lines.at = added[0]
            return
        places = [at for at, row in enumerate(rows) if (row.kind, row.id) == (before.kind, before.id)]
        if before.id is not None and places:
            self._lines.at = places[0]
        elif before.id is not None:  # it is gone: the cursor stays among its kind
            above = [at for at, row in enumerate(rows) if row.kind == before.kind and at <= self._lines.at]
            self._lines.at = above[-1] if above else 1

    @property
    def row(self) -> Row | None:
        """The line under the cursor."""
        return self._lines.row

    def chosen_paper(self) -> str | None:
        """The paper under the cursor, or that of the roll under it."""
        return self.row.paper if self.row is not None else None

    async def change_it(self) -> None:
        """Open the form of what is under the cursor; on a heading or an empty line that of a new one."""
        from logbook.tui.forms.record_form import changing, made_as_read

        row = self.row
        if row is not None and row.id is not None:
            await open_form(self.logbook, partial(changing, kind=row.kind, record_id=row.id), made_as_read)
        else:
            await self.add_one()

    async def add_one(self) -> None:
        """Open the form of a new one of the kind under the cursor."""
        from logbook.tui.forms.record_form import adding, made_as_read

        if self.row is not None:
            self._adding = self.row.kind
            await open_form(self.logbook, partial(adding, kind=self.row.kind, paper=self.chosen_paper()), made_as_read)

    @on(Lines.Chosen)
    async def _chosen(self, event: Lines.Chosen) -> None:
        await self.change_it()

    def _draw(self, row: Row, width: int) -> Content:
        if row.heading:
            return Content.assemble((f"{row.name} ", "$quiet"), ("─" * (width - len(row.name) - 1), "$rule"))
        if row.id is None:
            return Content.styled(f"{row.about}; + adds one", "$quiet")
        columns = ROOMY_COLUMNS if width >= ROOMY else COLUMNS
        called = name_cut(plain(row.name), columns[0].width, (plain(other.name) for other in self._lines.here))
        name = Content.styled(called, "$quiet" if row.finished else "$foreground")
        cells = [name, Content.styled(plain(row.about), "$quiet"), Content(plain(row.amount))]
        return line(columns, cells, width) if row.amount else line(columns[:2], cells[:2], width)
