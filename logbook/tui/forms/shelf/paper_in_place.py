"""A paper that is not there yet is described in a form of its own, over the form that named it."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from functools import partial
from typing import TYPE_CHECKING

from logbook.records.refusal import Refused
from logbook.tui.forms.offers import offered
from logbook.tui.forms.shelf.paper import PaperForm
from logbook.tui.widgets.fields.picker import New, PickerField

if TYPE_CHECKING:
    from logbook.store.journal import Entry
    from logbook.tui.forms.form import Form

Chosen = Callable[[], Awaitable[None]]


def describe(form: Form, event: PickerField.Created, chosen: Chosen | None = None) -> None:
    """Ask for what a new paper needs; ``chosen`` is awaited once the picker offers it, just before it is picked."""
    event.stop()
    opening = PaperForm.named(event.name).open_over(form.logbook, then=partial(_described, form, event.field, chosen))
    form.run_worker(opening, group="look-up")


def named_paper(form: Form) -> str | None:
    """The id of the paper in the field ``paper``; ``Refused`` where it still has to be described."""
    paper = form.value("paper")
    if isinstance(paper, New):
        raise Refused("paper", f"{paper.name} is a new paper: enter describes it")
    return paper if isinstance(paper, str) else None


def _described(form: Form, field: PickerField, chosen: Chosen | None, entry: Entry | None) -> None:
    if entry is not None:
        form.run_worker(_take(form, field, chosen), group="look-up")


async def _take(form: Form, field: PickerField, chosen: Chosen | None) -> None:
    there = {option.id for option in field.options}
    field.set_options(await form.logbook.desk.run(offered("paper", None)))
    if chosen is not None:
        await chosen()
    field.choose(next((option.id for option in field.options if option.id not in there), None))
    form.on_change(field)
