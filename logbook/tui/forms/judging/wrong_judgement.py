"""The form in which a judgement that was meant for another print is taken out."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import deleting
from logbook.actions.meant import print_meant
from logbook.records import Judgement
from logbook.records.refusal import Refused
from logbook.store import reading
from logbook.tui.forms.form import Form
from logbook.tui.forms.judging.judge import seen_words
from logbook.tui.forms.print.model import called
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry


@dataclass(frozen=True, kw_only=True)
class JudgedModel:
    """A print, and its judgements by id in words, the newest first."""

    print_id: str
    called: str
    judgements: dict[str, str]


def read(store: Store, print_id: str | None) -> JudgedModel:
    """The judgements of that print, else of the newest; ``Refused`` where it has none."""
    judged = print_meant(store, print_id)
    seen = reading.where(store, Judgement, "print", judged.id)
    if not seen:
        raise Refused("", "nobody has judged this print yet")
    return JudgedModel(
        print_id=judged.id,
        called=called(store, judged),
        judgements={one.id: f"{one.at.day} {one.at:%b %H:%M}: {seen_words(one)}" for one in reversed(seen)},
    )


class WrongJudgementForm(Form):
    """Every judgement of a print, the newest first; those that are taken out are deleted."""

    def __init__(self, model: JudgedModel) -> None:
        super().__init__()
        self.model = model
        self.heading = f"Judgements of {model.called}"

    def fields(self) -> Iterable[Widget]:
        for number, words in enumerate(self.model.judgements.values()):
            yield ChoiceRow(f"kept_{number}", "" if number else "judged", [Choice(True, words)], True)
        yield Static("Space takes out the one that was meant for another print.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        wrong = [name for number, name in enumerate(self.model.judgements) if not self.value(f"kept_{number}")]
        if not wrong:
            raise Refused("kept_0", "no judgement was taken out")
        return partial(deleting.delete_judgements, print_id=self.model.print_id, judgement_ids=wrong)
