"""The forms of moving in: what a column is, and what only the person can tell."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.tui.forms.form import Form
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.picker import New, Option, PickerField
from logbook.tui.widgets.fields.text_field import TextField

if TYPE_CHECKING:
    from logbook.actions.adopting.plan import Question, Seen

RESULTS = "For a result: keep, redo or scrap, thirds of a stop (- is darker), both, or note."

Told = Callable[[str, str, str], None]
"""Takes an answer: ``column``, ``word`` or ``else``; of what; what it is."""


class _Answering(Form):
    """A form that changes nothing in the logbook: it hands an answer over."""

    def __init__(self, told: Told) -> None:
        super().__init__()
        self.told = told

    def answer(self) -> tuple[str, str, str]:
        """The option, of what, and what it is."""
        raise NotImplementedError

    async def save(self) -> None:
        answer = self.answer()
        self.dismiss(None)
        self.told(*answer)


class ColumnForm(_Answering):
    """What a column is."""

    def __init__(self, seen: Seen, told: Told) -> None:
        super().__init__(told)
        self.seen = seen
        self.heading = f"Their column {plain(seen.column)}"

    def fields(self) -> Iterable[Widget]:
        from logbook.actions.adopting.columns import FIELDS, HOWS
        from logbook.actions.adopting.text import spoken

        field, _, how = self.seen.taken_for.partition(", ")
        options = [Option("-", "left out"), *(Option(one, spoken(one)) for one in sorted(FIELDS))]
        if field not in {option.id for option in options}:
            options.append(Option(field, field))
        yield Static(plain("; ".join(self.seen.first)), markup=False)
        yield PickerField("field", "taken for", options, field, new="setting of your own")
        yield PickerField("how", "how", [Option(one, one) for one in HOWS], how, new="way", aside="as in day first, or in")

    def answer(self) -> tuple[str, str, str]:
        field, how = (value.name if isinstance(value, New) else value for value in (self.value("field"), self.value("how")))
        return "column", self.seen.column, ", ".join(filter(None, (field or "-", how)))


class QuestionForm(_Answering):
    """Something that only the person can tell."""

    def __init__(self, question: Question, told: Told) -> None:
        super().__init__(told)
        self.question = question
        self.heading = f"{plain(question.word or question.theirs)}: {plain(question.asks)}?"

    def fields(self) -> Iterable[Widget]:
        asked = self.question
        of = f" of {plain(asked.column)}" if asked.column else ""
        yield Static(f"In {counted(asked.rows, 'row')}{of}.", classes="quiet", markup=False)
        if len(asked.meanings) > 1:
            shown = [f"{number} {one.rpartition(', ')[2]}" for number, one in enumerate(asked.meanings, 1)]
            choices = [Choice(one, words, words[0]) for one, words in zip(asked.meanings, shown, strict=True)]
            yield ChoiceRow("meaning", "it is", choices)
        else:
            yield TextField("meaning", "it is", placeholder=asked.meanings[0])
            yield Static(RESULTS, classes="quiet", markup=False)

    def answer(self) -> tuple[str, str, str]:
        return self.question.option, self.question.theirs, self.required("meaning")
