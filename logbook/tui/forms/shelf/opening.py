"""Which form opens for which thing on the shelf."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from logbook.tui.forms.batches import bench as bench_form
from logbook.tui.forms.batches.bench import BenchForm, BenchModel
from logbook.tui.forms.shelf import stock as stock_form
from logbook.tui.forms.shelf.light import LightForm
from logbook.tui.forms.shelf.paper import PaperForm
from logbook.tui.forms.shelf.printer import PrinterForm
from logbook.tui.forms.shelf.screen import ScreenForm

if TYPE_CHECKING:
    from logbook.records import Printer, Record
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.forms.form import Form

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


def removing(kind: str, record_id: str) -> Callable[[Store], Entry]:
    """The action that takes a thing off the shelf."""
    return partial(_remove, kind=kind, record_id=record_id)


def _changing(store: Store, kind: str, record_id: str) -> MakeForm:
    from logbook.records import KINDS, Bench, Light, Paper, Printer, Screen, Stock
    from logbook.records.refusal import Refused
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
            return partial(BenchForm, BenchModel(_printer(store, known.printer), known))
        case _:
            raise Refused("", "that is not on the shelf any more")


def _adding(store: Store, kind: str, paper: str | None) -> MakeForm:
    forms: dict[str, MakeForm] = {"paper": PaperForm, "light": LightForm, "screen": ScreenForm, "printer": PrinterForm}
    if kind == "stock":
        return partial(stock_form.StockForm, stock_form.read(store, paper))
    if kind == "bench":
        return partial(BenchForm, bench_form.read(store))
    return forms[kind]


def _printer(store: Store, printer: str) -> Printer:
    from logbook.actions.meant import printer_of

    return printer_of(store, printer)


def _remove(store: Store, kind: str, record_id: str) -> Entry:
    from logbook.actions import shelf
    from logbook.records import KINDS

    record: type[Record] = KINDS[kind]
    return shelf.remove(store, record, record_id)
