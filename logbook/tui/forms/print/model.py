"""What the form of a print needs to know before it opens, read on the store's thread."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from logbook.records.settings import SETTINGS
from logbook.records.text import plain
from logbook.records.wording import print_number
from logbook.tui.forms import offers
from logbook.tui.forms.offers import Options
from logbook.tui.forms.record_form import RecordModel
from logbook.tui.widgets.fields.picker import Option

if TYPE_CHECKING:
    from logbook.actions.log_print import PrintForm
    from logbook.actions.queue import Waiting
    from logbook.records import Print, Record
    from logbook.store import Store


@dataclass(frozen=True, kw_only=True)
class PrintModel(RecordModel):
    """How the form starts, and what its pickers offer; ``texts`` are the words of each text setting on earlier prints.

    ``before`` is the print that another attempt follows; ``known`` the one being corrected; ``job`` what
    came from the print queue and is about to be logged.
    """

    heading: str
    draft_name: str
    form: PrintForm
    texts: dict[str, list[str]]
    before: Print | None = None
    job: Waiting | None = None


def another(store: Store) -> PrintModel:
    """Another print, filled from the last one."""
    from logbook.actions import log_print

    return _model(store, "Another print", "print", log_print.starting_form(store))


def one_more(store: Store, print_id: str | None) -> PrintModel:
    """One more like a print, else like the newest."""
    from logbook.actions import log_print
    from logbook.actions.meant import print_meant

    known = print_meant(store, print_id)
    return _model(store, f"One more like {called(store, known)}", f"one more {known.id[:32]}", log_print.like(store, known))


def attempt(store: Store, print_id: str | None) -> PrintModel:
    """Another attempt at a print, else at the newest."""
    from logbook.actions import log_print
    from logbook.actions.meant import print_meant

    known = print_meant(store, print_id)
    form = log_print.attempt(store, known.id)
    return _model(store, f"Another attempt at {called(store, known)}", f"attempt {known.id[:32]}", form, before=known)


def correction(store: Store, print_id: str | None) -> PrintModel:
    """A print as it was logged, else the newest, to correct it."""
    from logbook.actions import log_print
    from logbook.actions.meant import print_meant
    from logbook.records import Print
    from logbook.store import reading

    known = print_meant(store, print_id)
    before = reading.get(store, Print, known.attempt_of) if known.attempt_of is not None else None
    heading = f"Correct {called(store, known)}"
    return _model(store, heading, f"print {known.id[:32]}", log_print.form_of(known), before=before, known=known)


def from_the_queue(store: Store, job: Waiting) -> PrintModel:
    """A job of the print queue as it would be logged, with every copy of it."""
    copies = f", {job.number} copies" if job.number > 1 else ""
    model = _model(store, f"From the queue: {plain(job.title)}{copies}", f"job {job.copies[0].job[-40:]}", job.form)
    made = tuple(Option(record.id, job.title) for record in job.new)
    return replace(model, job=job, options={**model.options, "picture": (*model.options["picture"], *made)})


def called(store: Store, known: Print) -> str:
    """A print by its number and title."""
    from logbook.records import Picture
    from logbook.store import reading

    picture = reading.get(store, Picture, known.picture)
    number = print_number(reading.number_of(store, known.id) or 0)
    return f"{number} {plain(picture.title)}" if picture is not None else number


def _model(
    store: Store, heading: str, draft_name: str, form: PrintForm, *, before: Print | None = None, known: Print | None = None
) -> PrintModel:
    from logbook.records import Paper, Picture, Printer, Screen
    from logbook.store import lately

    named: dict[str, type[Record]] = {"paper": Paper, "picture": Picture, "screen": Screen, "printer": Printer}
    return PrintModel(
        heading=heading,
        draft_name=draft_name,
        form=form,
        known=known,
        start={**{name: getattr(form, name) for name in form.__struct_fields__}, **form.rest},
        options={
            **{name: offers.named(store, kind) for name, kind in named.items()},
            "stock": _stock(store, form),
            "order": _orders(store, form),
        },
        texts={one.name: lately.used_values(store, one.name) for one in SETTINGS.values() if one.kind == "text"},
        before=before,
    )


def _stock(store: Store, form: PrintForm) -> Options:
    """The open rolls of the paper, and the one the print is on, be it finished."""
    from logbook.records import Stock
    from logbook.store import reading

    known = offers.open_stock(store, form.paper)
    own = reading.get(store, Stock, form.stock) if form.stock is not None else None
    if own is None or any(option.id == own.id for option in known):
        return known
    return (*known, Option(own.id, f"{offers.stock_words(own)}, finished"))


def _orders(store: Store, form: PrintForm) -> Options:
    from logbook.records import Order
    from logbook.store import reading

    known = offers.open_orders(store)
    own = reading.get(store, Order, form.order) if form.order is not None else None
    if own is None or any(option.id == own.id for option in known):
        return known
    return (*known, Option(own.id, plain(own.title)))
