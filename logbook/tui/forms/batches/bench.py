"""The form of bench times."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, NamedTuple

from textual.widget import Widget

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import DAYS
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import printer_in_use
from logbook.tui.forms.shelf.saving import described, put
from logbook.tui.widgets.fields.choice_row import Choice, ChoiceRow
from logbook.tui.widgets.fields.text_field import number_field

if TYPE_CHECKING:
    from logbook.records import Bench, Printer
    from logbook.store import Store
    from logbook.store.journal import Entry


class BenchModel(NamedTuple):
    """A printer, and its bench times where they are noted."""

    printer: Printer
    known: Bench | None


def read(store: Store) -> BenchModel:
    """The bench times of the printer in use; ``Refused`` while there is no printer."""
    from logbook.reports.batch.basis import bench_of
    from logbook.snapshot import take

    printer = printer_in_use(store)
    return BenchModel(printer, bench_of(take(store), printer))


class BenchForm(Form):
    """Bench times: when printing happens and how long it takes; the batch plan stands on them."""

    def __init__(self, model: BenchModel) -> None:
        super().__init__()
        self.printer, self.known = printer, _ = model
        self.heading = f"Bench times of {plain(printer.name)}"
        self.draft_name = f"bench {printer.id[:32]}"

    def fields(self) -> Iterable[Widget]:
        known = self.known
        days = [Choice(number, name) for number, name in enumerate(DAYS, 1)]
        yield ChoiceRow("weekdays", "bench days", days, known.weekdays if known else (1, 2, 3, 4, 5), several=True)
        yield number_field("minutes_per_day", "minutes a day", known.minutes_per_day if known else 240, low=0.001, high=1440)
        yield number_field(
            "minutes_per_print", "a print takes", known.minutes_per_print if known else 20, low=0.001, aside="minutes"
        )
        yield number_field(
            "changeover_minutes", "a changeover", known.changeover_minutes if known else 45, low=0, aside="minutes"
        )
        costs = (known.changeover_cost if known else None) or {}
        aside = "costs; empty: from the ink it wastes"
        yield number_field("matte_to_photo", "matte to photo", costs.get("matte->photo"), low=0, aside=aside)
        yield number_field("photo_to_matte", "photo to matte", costs.get("photo->matte"), low=0, aside=aside)
        waiting = known.waiting_cost if known else 0.5
        yield number_field("waiting_cost", "waiting", waiting, low=0, aside="costs, each print and bench day")
        dry, patience = (known.days_to_dry, known.patience_days) if known else (1, 21)
        yield number_field("days_to_dry", "drying", dry, low=0, whole=True, aside="days, before the promised one")
        aside = "days; then an order without a date costs as if it were late"
        yield number_field("patience_days", "patience", patience, low=0, whole=True, aside=aside)
        rate = known.prints_per_bench_day if known else None
        yield number_field(
            "matte", "matte comes in", rate.matte if rate else None, low=0, aside="prints a bench day; empty: from the orders"
        )
        yield number_field(
            "photo", "photo comes in", rate.photo if rate else None, low=0, aside="prints a bench day; empty: from the orders"
        )

    def act(self) -> Callable[[Store], Entry]:
        from logbook.records import Bench, PerBlack, new_id

        names = ("minutes_per_day", "minutes_per_print", "changeover_minutes")
        fields: dict[str, Any] = {name: self.required(name) for name in names}
        read = {"matte->photo": self.value("matte_to_photo"), "photo->matte": self.value("photo_to_matte")}
        costs = {direction: cost for direction, cost in read.items() if cost is not None}
        matte, photo = self.value("matte"), self.value("photo")
        if (matte is None) is not (photo is None):
            raise Refused("matte" if matte is None else "photo", "give both blacks a number, or neither")
        waiting = self.value("waiting_cost")
        fields |= {
            "weekdays": self.value("weekdays"),
            "changeover_cost": costs or None,
            "prints_per_bench_day": PerBlack(matte=matte, photo=photo) if matte is not None else None,
            "waiting_cost": 0.5 if waiting is None else waiting,
            "days_to_dry": self.required("days_to_dry"),
            "patience_days": self.required("patience_days"),
        }
        bench_id = self.known.id if self.known else new_id()
        return put(described(lambda: Bench(id=bench_id, printer=self.printer.id, **fields)))
