"""The form of a wedge's reading."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING

from textual.widget import Widget

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.tui.forms import offers
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import Options
from logbook.tui.forms.shelf.saving import described, light_named, put
from logbook.tui.widgets.fields.picker import PickerField
from logbook.tui.widgets.fields.text_field import TextField, number_field

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry


@dataclass(frozen=True, kw_only=True)
class WedgeModel:
    """The paper whose wedge is read, and the lights to choose from."""

    paper: str
    paper_name: str
    lights: Options


def read(store: Store, paper: str) -> WedgeModel:
    """What the form of a reading on that paper needs; ``Refused`` where the paper is gone."""
    from logbook.records import Light, Paper
    from logbook.store import reading

    known = reading.get(store, Paper, paper)
    if known is None:
        raise Refused("", "that paper is not there any more")
    return WedgeModel(paper=paper, paper_name=known.name, lights=offers.named(store, Light))


class WedgeForm(Form):
    """A wedge's reading: the lowest step that this paper keeps apart from black."""

    def __init__(self, model: WedgeModel) -> None:
        super().__init__()
        self.model = model
        self.heading = f"A wedge read on {plain(model.paper_name)}"
        self.draft_name = f"wedge {model.paper[:32]}"

    def fields(self) -> Iterable[Widget]:
        aside = "the lowest level (0 to 255) told apart from black"
        yield number_field("first_step", "first step", low=0, high=255, whole=True, aside=aside)
        yield PickerField("light", "under", self.model.lights, new="light")
        yield TextField("note", "note", width=48)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Wedge, new_id

        at = self.logbook.now().replace(microsecond=0)
        light, new = light_named(self.value("light"))
        fields = {"first_step": self.required("first_step"), "light": light, "note": self.value("note")}
        return put(described(lambda: Wedge(id=new_id(), paper=self.model.paper, at=at, **fields)), along=new)
