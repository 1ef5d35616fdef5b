"""The form of an order: taken, or changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from functools import partial
from typing import TYPE_CHECKING, Any

import msgspec
from textual import work
from textual.app import ComposeResult
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from logbook.actions import orders
from logbook.records import Order
from logbook.records.text import plain
from logbook.tui.forms.record_form import RecordForm
from logbook.tui.widgets.fields.field import Field

#: What decides whether an order is ready in time.
WHAT_IS_READY = ("prints", "paper", "black", "promised", "minutes", "late_cost_per_day", "wait_cost_per_day")

if TYPE_CHECKING:
    from datetime import date

    from logbook.store import Store
    from logbook.store.journal import Entry


class OrderForm(RecordForm):
    """An order: prints promised to somebody, or to oneself."""

    kind, called = Order, "An order"

    def known_heading(self) -> str:
        return f"Change the order {plain(self.model.known.title)}"

    def fields(self) -> Iterable[Widget] | ComposeResult:
        yield Static("", id="ready", classes="quiet", markup=False)
        yield from super().fields()

    def after_fill(self) -> None:
        self._see_if_ready()

    def on_change(self, field: Field) -> None:
        if field.name in WHAT_IS_READY:
            self._see_if_ready()

    @work(group="ready", exclusive=True)
    async def _see_if_ready(self) -> None:
        """Say whether the order would keep its date, as far as it is typed."""
        fields = {name: self.value_or_none(name) for name in WHAT_IS_READY}
        today = self.logbook.now().date()
        told = await self.logbook.study.run(partial(_ready, today=today, known=self.model.known, fields=fields))
        self.query_one("#ready", Static).update(Content(told))

    def act(self) -> Callable[[Store], Entry]:
        values = self.values()
        if self.model.known is None:
            return partial(orders.take, **values)
        return partial(orders.change, order=self.model.known, **values)


def _ready(store: Store, today: date, known: Order | None, fields: dict[str, Any]) -> str:
    """Whether what is typed would be ready in time; nothing while it says too little."""
    from logbook.reports.batch import answer as batch
    from logbook.reports.batch.words import promise_text
    from logbook.snapshot import take

    if not fields["prints"] or not (isinstance(fields["paper"], str) or fields["black"]):
        return ""
    given = {name: value for name, value in fields.items() if value is not None and (name != "paper" or isinstance(value, str))}
    given = given if "paper" not in given else {**given, "black": None}
    order = known or Order(id="typed", title="typed", prints=1, taken=today, black="matte")
    line = batch.promise(take(store, today), msgspec.structs.replace(order, **{"promised": None, **given}))
    return f"{promise_text(line, today)}." if line is not None else ""
