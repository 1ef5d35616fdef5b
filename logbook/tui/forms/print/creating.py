"""What is missing while a print is typed is described in a form of its own, over that of the print."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from logbook.records.refusal import Refused

if TYPE_CHECKING:
    from logbook.store import Store
    from logbook.tui.forms.form import Form

DESCRIBED = {"paper": "paper", "printer": "printer", "order": "order", "stock": "roll or box"}
"""The fields whose new names need more than a name, and what each is called."""


def reading_form(field: str, name: str, paper: str | None) -> Callable[[Store], Form]:
    """Reads what the form needs that describes a new ``name`` of that field, and makes it; no draft is kept of it."""
    return partial(_form, field=field, name=name, paper=paper)


def _form(store: Store, field: str, name: str, paper: str | None) -> Form:
    from logbook.tui.forms.batches import order as order_form
    from logbook.tui.forms.shelf import stock as stock_form
    from logbook.tui.forms.shelf.paper import PaperForm
    from logbook.tui.forms.shelf.printer import PrinterForm

    if field == "paper":
        return PaperForm.named(name)
    if field == "printer":
        return PrinterForm.named(name)
    if field == "order":
        return order_form.OrderForm.titled(order_form.read(store), name, paper)
    if paper is None:
        raise Refused("paper", "say the paper first, then its roll or box")
    form = stock_form.StockForm(stock_form.read(store, paper))
    form.draft_name = ""
    return form
