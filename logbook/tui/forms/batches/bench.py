"""The form of bench times."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING, Any

from textual.widget import Widget

from logbook.actions.meant import printer_of
from logbook.records import Bench, PerBlack
from logbook.records.declared import Declared
from logbook.records.fields import BLACKS
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import DAYS
from logbook.snapshot import take
from logbook.tui.forms.offers import printer_in_use
from logbook.tui.forms.record_form import RecordForm, RecordModel
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.text_field import number_field

if TYPE_CHECKING:
    from logbook.store import Store

WAYS = {"matte_to_photo": "matte->photo", "photo_to_matte": "photo->matte"}
SEVERAL = {"weekdays": ("weekdays",), "changeover_cost": tuple(WAYS), "prints_per_bench_day": BLACKS}
"""The fields in which a value of more than one part is typed."""


class BenchForm(RecordForm):
    """Bench times: when printing happens and how long it takes; the batch plan stands on them."""

    kind, called = Bench, "Bench times"
    unasked = frozenset({"printer"})

    @classmethod
    def read(cls, store: Store, *, known: Any = None, named: str = "", **start: Any) -> RecordModel:
        """The bench times of the printer in use, where they are noted; ``Refused`` while there is no printer."""
        from logbook.reports.batch.basis import bench_of

        printer = printer_of(store, known.printer) if known is not None else printer_in_use(store)
        return RecordModel(known=known or bench_of(take(store), printer), start={"printer": printer.id, "called": printer.name})

    def new_heading(self) -> str:
        return self.known_heading()

    def known_heading(self) -> str:
        return f"{self.called} of {plain(self.model.start['called'])}"

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        match one.name:
            case "weekdays":
                days = [Choice(number, name) for number, name in enumerate(DAYS, 1)]
                yield ChoiceRow(one.name, one.in_a_form, days, value, several=True)
            case "changeover_cost":
                for name, way in WAYS.items():
                    aside = "its cost; empty: worked out from its ink"
                    yield number_field(name, name.replace("_", " "), (value or {}).get(way), low=0, aside=aside)
            case "prints_per_bench_day":
                for black in BLACKS:
                    aside = "prints a bench day; empty: as ordered lately"
                    yield number_field(black, f"{black} comes in", value and getattr(value, black), low=0, aside=aside)
            case _:
                yield from super().widgets_of(one, value)

    def is_meant(self, one: Declared) -> bool:
        return self.model.known is None or any(self.field(name).touched for name in SEVERAL.get(one.name, (one.name,)))

    def value_of(self, one: Declared) -> Any:
        match one.name:
            case "changeover_cost":
                costs = {way: self.value(name) for name, way in WAYS.items()}
                return {way: cost for way, cost in costs.items() if cost is not None} or None
            case "prints_per_bench_day":
                matte, photo = self.value("matte"), self.value("photo")
                if (matte is None) is not (photo is None):
                    raise Refused("matte" if matte is None else "photo", "give both blacks a number, or neither")
                return None if matte is None else PerBlack(matte=matte, photo=photo)
            case _:
                return super().value_of(one)
