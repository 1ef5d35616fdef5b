"""What the form of a print needs to know before it opens, read on the store's thread."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

from logbook.records.text import plain
from logbook.records.wording import print_number
from logbook.tui.forms import offers
from logbook.tui.forms.offers import Options
from logbook.tui.widgets.fields.picker import Option

if TYPE_CHECKING:
    from logbook.actions.log_print import PrintForm
    from logbook.actions.queue import Waiting
    from logbook.records import Print
    from logbook.store import Store

TEXT_SETTINGS = ("profile", "media", "sharpening")


@dataclass(frozen=True, kw_only=True)
class PrintModel:
    """How the form starts, and what its pickers offer.

    ``before`` is the print that another attempt follows; ``editing`` the id of the print being corrected; ``job`` what came
    from the print queue and is about to be logged.
    """

    heading: str
    draft_name: str
    form: PrintForm
    papers: Options
    pictures: Options
    stock: Options
    orders: Options
    screens: Options
    printers: Options
    texts: dict[str, Options]
    before: Print | None = None
    editing: str | None = None
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
    return _model(store, heading, f"print {known.id[:32]}", log_print.form_of(known), before=before, editing=known.id)


def from_the_queue(store: Store, job: Waiting) -> PrintModel:
    """A job of the print queue as it would be logged, with every copy of it."""
    copies = f", {job.number} copies" if job.number > 1 else ""
    model = _model(store, f"From the queue: {plain(job.title)}{copies}", f"job {job.copies[0].job[-40:]}", job.form)
    made = tuple(Option(record.id, job.title) for record in job.new)
    return replace(model, job=job, pictures=(*model.pictures, *made))


def called(store: Store, known: Print) -> str:
    """A print by its number and title."""
    from logbook.records import Picture
    from logbook.store import reading

    picture = reading.get(store, Picture, known.picture)
    number = print_number(reading.number_of(store, known.id) or 0)
    return f"{number} {plain(picture.title)}" if picture is not None else number


def _model(
    store: Store, heading: str, draft_name: str, form: PrintForm, *, before: Print | None = None, editing: str | None = None
) -> PrintModel:
    from logbook.records import Paper, Picture, Printer, Screen

    return PrintModel(
        heading=heading,
        draft_name=draft_name,
        form=form,
        papers=offers.named(store, Paper),
        pictures=offers.named(store, Picture),
        stock=_stock(store, form),
        orders=_orders(store, form),
        screens=offers.named(store, Screen),
        printers=offers.named(store, Printer),
        texts={name: offers.used_values(store, name) for name in TEXT_SETTINGS},
        before=before,
        editing=editing,
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
