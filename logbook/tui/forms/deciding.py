"""The form in which what was changed in two logbooks is decided, one thing at a time."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.records.wording import counted
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow

if TYPE_CHECKING:
    from logbook.actions.merging import Question
    from logbook.store import Store
    from logbook.store.journal import Entry


def read(store: Store) -> tuple[Question, int]:
    """The first question, and how many wait with it; ``Refused`` where none does."""
    from logbook.actions.merging import questions

    waiting = questions(store)
    if not waiting:
        raise Refused("", "nothing was changed on both sides: there is nothing to decide")
    return waiting[0], len(waiting)


class DecidingForm(Form):
    """One thing that was changed on both sides, and what each side says; saving keeps the chosen one."""

    def __init__(self, asked: tuple[Question, int]) -> None:
        super().__init__()
        self.question, self.waiting = asked
        self.heading = self.question.record

    def fields(self) -> Iterable[Widget]:
        question = self.question
        yield Static(f"Changed in two logbooks apart: {question.field}.", classes="quiet", markup=False)
        for number, (_, words) in enumerate(question.choices, 1):
            yield Static(f"{number}: {words}", markup=False)
        choices = [Choice(value, str(number), str(number)) for number, (value, _) in enumerate(question.choices, 1)]
        yield ChoiceRow("kept", "keep", choices)
        if self.waiting > 1:
            yield Static(f"{counted(self.waiting - 1, 'more thing')} to decide after this.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        return partial(_decide, question=self.question, value=self.required("kept"))


def _decide(store: Store, question: Question, value: str) -> Entry:
    from logbook.actions import merging

    return merging.decide(store, question, value)
