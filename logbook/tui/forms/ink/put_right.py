"""The forms in which a cartridge, a changeover or a gauge round that is logged already is put right."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.widget import Widget
from textual.widgets import Static

from logbook.actions.putting_right import put_right
from logbook.records import Cartridge, Changeover, Gauge, Printer
from logbook.records.declared import Declared
from logbook.records.wording import ink_text
from logbook.store import reading
from logbook.tui.forms.record_form import RecordForm, RecordModel
from logbook.tui.widgets.fields.numbers_row import Column, NumbersRow
from logbook.tui.widgets.fields.picker import Option, PickerField

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.store.journal import Entry


class PutRight(RecordForm):
    """A record of the ink end as it is logged; what hangs on it goes along."""

    unasked = frozenset({"printer"})

    @classmethod
    def read(cls, store: Store, *, known: Any = None, named: str = "", **start: Any) -> RecordModel:
        printer = reading.get(store, Printer, known.printer)
        inks = printer.ink_names if printer is not None else ()
        return RecordModel(known=known, options={"ink": tuple(Option(ink, ink_text(ink)) for ink in inks)})

    def act(self) -> Callable[[Store], Entry]:
        return partial(put_right, known=self.model.known, record=self.record(), insist=self.insists)


class CartridgePutRight(PutRight):
    """A cartridge: when it went in, its ink, its volume."""

    kind, called = Cartridge, "A cartridge"
    first_field = "installed"

    def known_heading(self) -> str:
        return f"The {ink_text(self.model.known.ink)} cartridge"

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        if one.name == "ink":
            yield PickerField("ink", "ink", self.model.options["ink"], value)
        else:
            yield from super().widgets_of(one, value)


class ChangeoverPutRight(PutRight):
    """A changeover; the levels read before and after it stand on lines of their own."""

    kind, called = Changeover, "A changeover"
    unasked = frozenset({"printer", "before", "after"})
    quiet = ("Its levels move along to another time; each round of them has a line of its own.",)


class GaugePutRight(PutRight):
    """A gauge round: its time, and its levels."""

    kind, called = Gauge, "A gauge round"
    first_field = "at"

    def known_heading(self) -> str:
        return "A gauge round"

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        if one.name != "levels":
            yield from super().widgets_of(one, value)
            return
        inks = dict.fromkeys([*(option.id for option in self.model.options["ink"]), *value])
        yield NumbersRow("levels", "levels, %", [Column(ink, ink_text(ink)) for ink in inks], value)
        yield Static("", classes="gap")
