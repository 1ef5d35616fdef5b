"""What was left in a cartridge that came out: measured, or by its weight."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import cartridges
from logbook.records import Cartridge
from logbook.records.refusal import Refused
from logbook.records.wording import date_text, ink_text
from logbook.snapshot import take
from logbook.snapshot.printer import readings_of
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import printer_in_use
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import Option, PickerField
from logbook.tui.widgets.fields.text_field import number_field

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry

MOST_OFFERED = 20
CAUTION = (
    "Ink stains, and is nothing for skin, eyes or children: gloves on, paper beneath, the outlet up. Never open a cartridge or"
    " press air into it; mind the maker's instructions and what your place says of ink waste."
)
WEIGHED = "A balance that tells grams will do. Full is what this one weighed when new, or another of its kind."


@dataclass(frozen=True, kw_only=True)
class WeighModel:
    """The cartridges that came out, the last one first, and the last level read on each."""

    gone: tuple[Cartridge, ...]
    level: dict[str, float]


def read(store: Store) -> WeighModel:
    """Those of the printer in use; ``Refused`` where none has come out yet."""
    log, printer = take(store), printer_in_use(store)
    gone = [one for one in log.of_printer(Cartridge, printer.id) if one.removed is not None]
    if not gone:
        raise Refused("", "no cartridge has come out yet: log a new one with w, and the one before it can be weighed")
    gone.sort(key=lambda one: (one.removed, one.id), reverse=True)
    levels = {one.id: readings_of(log, printer.id, one.ink, one) for one in gone}
    return WeighModel(gone=tuple(gone[:MOST_OFFERED]), level={name: found[-1][1] for name, found in levels.items() if found})


class WeighForm(Form):
    """The ink left in a cartridge, in ml, or what it weighs full and emptied."""

    draft_name = "weighing"
    heading = "What was left in a cartridge"
    first_field = "left_ml"

    def __init__(self, model: WeighModel) -> None:
        super().__init__()
        self.model = model

    def fields(self) -> Iterable[Widget]:
        today = self.logbook.now().date()
        names = [
            Option(one.id, f"{ink_text(one.ink)}, out {date_text(one.removed.date(), today)}")
            for one in self.model.gone
            if one.removed is not None
        ]
        yield PickerField("cartridge", "cartridge", names, names[0].id)
        yield number_field("end_percent", "gauge then", low=0, high=100, aside=self._aside(self.model.gone[0]))
        yield number_field("left_ml", "ink left", low=0, aside="ml, where you can measure it; else weigh:")
        yield number_field("full_g", "full", low=0, above=True, aside="g")
        yield number_field("empty_g", "emptied", low=0, above=True, aside="g")
        for words in (WEIGHED, CAUTION):
            yield Static(words, classes="quiet", markup=False)

    def on_change(self, field: Field) -> None:
        chosen = self._chosen() if field.name == "cartridge" else None
        if chosen is not None:
            self.field("end_percent").set_aside(self._aside(chosen))

    def act(self) -> Callable[[Store], Entry]:
        self.required("cartridge")
        chosen = self._chosen()
        assert chosen is not None
        shown = self.value("end_percent")
        return partial(
            cartridges.weigh,
            cartridge=chosen.id,
            end_percent=self.model.level.get(chosen.id) if shown is None else shown,
            left_ml=self.value("left_ml"),
            full_g=self.value("full_g"),
            empty_g=self.value("empty_g"),
        )

    def _chosen(self) -> Cartridge | None:
        name = self.value_or_none("cartridge")
        return next((one for one in self.model.gone if one.id == name), None)

    def _aside(self, one: Cartridge) -> str:
        known = self.model.level.get(one.id)
        return "%, when it came out" if known is None else f"%, when it came out; empty: {known:g}, as it was read last"
