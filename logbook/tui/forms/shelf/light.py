"""The form of a light."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.text import plain
from logbook.tui.forms.form import Form
from logbook.tui.forms.shelf.saving import described, put
from logbook.tui.widgets.fields.text_field import TextField, number_field

if TYPE_CHECKING:
    from logbook.records import Light
    from logbook.store import Store
    from logbook.store.journal import Entry


class LightForm(Form):
    """A place where prints are judged."""

    def __init__(self, known: Light | None = None, heading: str = "") -> None:
        super().__init__()
        self.known = known
        self.heading = heading or ("A light" if known is None else f"The light {plain(known.name)}")
        self.draft_name = f"light {known.id[:32]}" if known else "light"

    def fields(self) -> Iterable[Widget]:
        known = self.known
        yield TextField("name", "name", known.name if known else "", placeholder="window wall")
        lux = known.illuminance_lx if known else None
        yield number_field("illuminance_lx", "illuminance", lux, low=0.001, aside="lx on the paper")
        kelvin = known.colour_temperature_k if known else None
        yield number_field("colour_temperature_k", "colour", kelvin, low=0.001, aside="K, its colour temperature")
        yield Static("With the illuminance, the log can say how dark prints must look under it.", classes="quiet", markup=False)

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Light, new_id

        fields = {name: self.value(name) for name in ("illuminance_lx", "colour_temperature_k")}
        name, light_id = self.required("name"), self.known.id if self.known else new_id()
        return put(described(lambda: Light(id=light_id, name=name, **fields)))
