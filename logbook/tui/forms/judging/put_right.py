"""The form in which a judgement that is logged already is put right."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING, Any

from logbook.actions import judging
from logbook.actions.putting_right import put_right
from logbook.records import Light
from logbook.records.declared import Declared
from logbook.tui.forms import offers
from logbook.tui.forms.judging.judge import JudgeForm, JudgeModel
from logbook.tui.forms.print.model import called

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry


class JudgementPutRight(JudgeForm):
    """A judgement as it was given: the form in which it was typed, filled in."""

    def __init__(self, model: JudgeModel) -> None:
        super().__init__(model)
        self.draft_name = f"judgement {model.known.id[:32]}"

    @classmethod
    def read(cls, store: Store, *, known: Any = None, named: str = "", **start: Any) -> JudgeModel:
        ahead = judging.judgement_ahead(store, known.print, known.at)
        options = {"light": offers.named(store, Light)}
        return JudgeModel(known=known, options=options, ahead=ahead, called=called(store, ahead.print), lux={}, earlier=())

    def known_heading(self) -> str:
        return f"The judgement of {self.model.called}"

    def is_meant(self, one: Declared) -> bool:
        if one.name == "flaws":
            return self.field("flaws").touched or self.field("other_flaws").touched
        return super().is_meant(one)

    def act(self) -> Callable[[Store], Entry]:
        return partial(put_right, known=self.model.known, record=self.record(), insist=self.insists)
