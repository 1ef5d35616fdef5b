"""Which form opens for which thing on the shelf."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from logbook.tui.forms import offers, stock_form
from logbook.tui.forms.paper_form import PaperForm
from logbook.tui.forms.shelf_forms import BenchForm, LightForm, PrinterForm, ScreenForm, WedgeModel

if TYPE_CHECKING:
    from logbook.records import Printer, Record
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.form import Form

MakeForm = Callable[[], "Form"]


def opened(make: MakeForm) -> Form:
    """The form itself: what was read says how to make it."""
    return make()


def changing(kind: str, record_id: str) -> Callable[[Store], MakeForm]:
    """Reads a thing, and says which form changes it."""
    return partial(_changing, kind=kind, record_id=record_id)


def adding(kind: str, paper: str | None) -> Callable[[Store], MakeForm]:
    """Reads what a new thing of a kind needs, and says which form describes it."""
    return partial(_adding, kind=kind, paper=paper)


def reading_wedge(paper: str) -> Callable[[Store], WedgeModel]:
    """Reads what the form of a wedge's reading needs."""
    return partial(_wedge, paper=paper)


def removing(kind: str, record_id: str) -> Callable[[Store], Entry]:
    """The action that takes a thing off the shelf."""
    return partial(_remove, kind=kind, record_id=record_id)


def _changing(store: Store, kind: str, record_id: str) -> MakeForm:
    from logbook.actions.refusal import Refused
    from logbook.records import KINDS, Bench, Light, Paper, Printer, Screen, Stock
    from logbook.store import reading

    known = reading.get(store, KINDS[kind], record_id)
    match known:
        case Paper():
            return partial(PaperForm, known)
        case Stock():
            return partial(stock_form.StockForm, stock_form.read(store, known.paper, known))
        case Light():
            return partial(LightForm, known)
        case Screen():
            return partial(ScreenForm, known)
        case Printer():
            return partial(PrinterForm, known)
        case Bench():
            return partial(BenchForm, _printer(store, known.printer), known)
        case _:
            raise Refused("", "that is not on the shelf any more")


def _adding(store: Store, kind: str, paper: str | None) -> MakeForm:
    forms: dict[str, MakeForm] = {"paper": PaperForm, "light": LightForm, "screen": ScreenForm, "printer": PrinterForm}
    if kind == "stock":
        return partial(stock_form.StockForm, stock_form.read(store, paper))
    if kind == "bench":
        return _bench(store)
    return forms[kind]


def _bench(store: Store) -> MakeForm:
    """The bench times of the printer in use: it has one set of them."""
    from logbook.records import Bench
    from logbook.store import reading
    from logbook.tui.forms.ink_forms import printer_in_use

    printer = printer_in_use(store)
    known = reading.where(store, Bench, "printer", printer.id)
    return partial(BenchForm, printer, known[-1] if known else None)


def _printer(store: Store, printer: str) -> Printer:
    from logbook.actions.facts import printer_of

    return printer_of(store, printer)


def _wedge(store: Store, paper: str) -> WedgeModel:
    from logbook.actions.refusal import Refused
    from logbook.records import Light, Paper
    from logbook.store import reading

    known = reading.get(store, Paper, paper)
    if known is None:
        raise Refused("", "that paper is not there any more")
    return WedgeModel(paper=paper, paper_name=known.name, lights=offers.named(store, Light))


def _remove(store: Store, kind: str, record_id: str) -> Entry:
    from logbook.actions import shelf
    from logbook.records import KINDS

    record: type[Record] = KINDS[kind]
    return shelf.remove(store, record, record_id)
