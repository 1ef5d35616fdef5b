"""The page of a table of one's own: their columns, what they become, what is asked, and what would be added."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial
from textwrap import wrap
from typing import TYPE_CHECKING, cast

import msgspec
from textual import on
from textual.app import ComposeResult
from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.tui.commands.command import Command
from logbook.tui.places.place import BackFromPage, Place
from logbook.tui.widgets.lists.columns import Column, headings, line
from logbook.tui.widgets.lists.lines import Lines

if TYPE_CHECKING:
    from logbook.actions.adopting.adopt import Adoption
    from logbook.actions.adopting.plan import Answers, Question, Seen
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.shell import Shell

COLUMNS = (Column("their column", 14), Column("taken for", 14), Column("the first rows", 20, 1), Column("becomes", 20, 1))

HEADINGS = "headings"
NARROWEST = 76  # cells of a line of words: room on every screen


@dataclass(frozen=True)
class Row:
    """A line: a column of theirs, something asked, or words (``HEADINGS``: those of the columns)."""

    words: str = ""
    seen: Seen | None = None
    question: Question | None = None


class BackFromMovingIn(BackFromPage):
    """Leave the table; nothing is added. What was said of it is asked again."""

    key, label, scope = "escape,backspace", "back", "shelf"


class AddTheTable(Command):
    """Add what stands here; one undo takes all of it back."""

    key, label, scope = "s", "add it", "shelf"

    async def run(self, app: Shell) -> None:
        await cast(MovingIn, app.place).add()

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return isinstance(app.place, MovingIn)


class CountAttempts(Command):
    """Count a picture printed again on its paper within two weeks, not kept before, as another attempt; or do not."""

    key, label, scope = "y", "attempts", "shelf"

    async def run(self, app: Shell) -> None:
        cast(MovingIn, app.place).count_attempts()

    @classmethod
    def possible(cls, app: Shell) -> bool:
        return isinstance(app.place, MovingIn)


class MovingIn(Place["Adoption"]):
    """A table of your own, and what it becomes. Nothing is added yet.

    Enter on a column says what it is, on a question answers it. s adds all of it, and one undo takes it back. Rows that
    can't be read stay in your file: put right there, they come in the next time; what is here already is not added twice.
    """

    OF = "Shelf"
    SLOW = True
    COMMANDS_HERE = (AddTheTable, CountAttempts, BackFromMovingIn)
    HINTS = ("add-the-table", "count-attempts", "back-from-moving-in")

    def __init__(self, adoption: Adoption) -> None:
        super().__init__()
        self.adoption = self._understood = adoption
        self._lines: Lines[Row] = Lines(self._draw, id="table")

    def body(self) -> ComposeResult:
        yield Static("", classes="sentence", id="said", markup=False)
        yield self._lines

    def on_mount(self) -> None:
        """The arrows move the list."""
        self._lines.focus()

    def read(self, store: Store) -> Adoption:
        from logbook.actions.adopting import adopt

        known = self.adoption
        return adopt.again(store, known.name, known.grid, known.answers, self.logbook.now().date())

    def show(self, model: Adoption) -> None:
        from logbook.actions.adopting.text import added_text

        self.adoption = self._understood = model
        sheet = f", sheet {plain(model.plan.sheet)}" if model.plan.sheet else ""
        words = f"{plain(model.name)}{sheet}: {counted(model.plan.rows, 'row')}. {added_text(model.plan)}"
        self.query_one("#said", Static).update(Content(words))
        self._lines.show_rows(list(_rows(model)))

    def show_failure(self, sentence: str) -> None:
        """An answer that makes no sense is forgotten."""
        self.adoption = self._understood
        super().show_failure(sentence)

    async def add(self) -> None:
        """Add it and go back to Shelf."""

        if await self.logbook.save(partial(_add, adoption=self.adoption)) is not None and self.logbook.screen is self:
            await self.logbook.pop_screen()

    def count_attempts(self) -> None:
        """The other way round."""
        self._answer(msgspec.structs.replace(self.adoption.answers, attempts=not self.adoption.answers.attempts))

    @on(Lines.Chosen)
    async def _chosen(self, event: Lines.Chosen) -> None:
        from logbook.tui.forms.shelf.moving_in import ColumnForm, QuestionForm

        row: Row = event.row
        if row.question is not None:
            await QuestionForm(row.question, self._told).open_over(self.logbook)
        elif row.seen is not None:
            await ColumnForm(row.seen, self._told).open_over(self.logbook)

    def _told(self, option: str, theirs: str, meaning: str) -> None:
        name = {"column": "columns", "word": "words", "else": "otherwise"}[option]
        answers = self.adoption.answers
        self._answer(msgspec.structs.replace(answers, **{name: {**getattr(answers, name), theirs: meaning}}))

    def _answer(self, answers: Answers) -> None:
        self.adoption = msgspec.structs.replace(self.adoption, answers=answers)
        self.logbook.look_again()

    def _draw(self, row: Row, width: int) -> Content:
        if row.words == HEADINGS:
            return headings(COLUMNS, width)
        if row.seen is None:
            return Content.styled(plain(row.words), "$asks" if row.question is not None else "$quiet")
        from logbook.actions.adopting.text import spoken

        taken = "left out" if row.seen.taken_for == "-" else spoken(row.seen.taken_for)
        cells = (row.seen.column, taken, "; ".join(row.seen.first), "; ".join(row.seen.becomes) or "–")
        return line(COLUMNS, [Content(plain(cell)) for cell in cells], width)


def _rows(model: Adoption) -> Iterator[Row]:
    from logbook.actions.adopting.text import details, question_words

    yield from (Row(question_words(one), question=one) for one in model.plan.questions)
    yield Row(HEADINGS)
    yield from (Row(seen=one) for one in model.plan.columns)
    yield from (Row(words) for told in details(model.plan) for words in wrap(told, NARROWEST, subsequent_indent="    "))


def _add(store: Store, adoption: Adoption) -> Entry:
    from logbook.actions.adopting import adopt
    from logbook.records.refusal import Refused

    entry = adopt.add(store, adoption)
    if entry is None:
        raise Refused("", "All of it is here already; nothing was added.")
    return entry
