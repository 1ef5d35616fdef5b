"""The form of an order: taken, or changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual import work
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.tui.forms import offers
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import BLACKS, Options
from logbook.tui.forms.shelf.paper_in_place import describe, named_paper
from logbook.tui.widgets.fields.choice_row import ChoiceRow
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import PickerField
from logbook.tui.widgets.fields.text_field import TextField, date_field, number_field

#: What decides whether an order is ready in time.
WHAT_IS_READY = ("prints", "paper", "black", "promised", "minutes", "late_cost_per_day", "wait_cost_per_day")

if TYPE_CHECKING:
    from datetime import date

    from logbook.records import Order
    from logbook.store import Store
    from logbook.store.journal import Entry


@dataclass(frozen=True, kw_only=True)
class OrderModel:
    """The papers to choose from, and the order that is changed (None: a new one)."""

    papers: Options
    order: Order | None = None


def read(store: Store, order_id: str | None = None) -> OrderModel:
    """What the form of an order needs."""
    from logbook.actions import orders
    from logbook.records import Paper

    order = orders.order_of(store, order_id) if order_id is not None else None
    return OrderModel(papers=offers.named(store, Paper), order=order)


class OrderForm(Form):
    """An order: prints promised to somebody, or to oneself."""

    def __init__(self, model: OrderModel) -> None:
        super().__init__()
        self.model = model
        self._titled: tuple[str, str | None] = ("", None)
        known = model.order
        self.heading = "An order" if known is None else f"Change the order {plain(known.title)}"
        self.draft_name = "order" if known is None else f"order {known.id[:32]}"

    @classmethod
    def titled(cls, model: OrderModel, title: str, paper: str | None) -> OrderForm:
        """A new order whose title, and perhaps whose paper, was typed elsewhere."""
        form = cls(model)
        form._titled = (title, paper)
        form.draft_name, form.first_field = "", "prints"
        return form

    def fields(self) -> Iterable[Widget]:
        known = self.model.order
        title, paper = (known.title, known.paper) if known else self._titled
        today = self.logbook.now().date()
        yield Static("", id="ready", classes="quiet", markup=False)
        yield TextField("title", "title", title, placeholder="three for the stair")
        yield number_field("prints", "prints", known.prints if known else None, low=1, whole=True)
        yield PickerField("paper", "paper", self.model.papers, paper, new="paper", described=True)
        yield ChoiceRow("black", "or any paper", BLACKS, known.black if known else None)
        promised = known.promised if known else None
        yield date_field("promised", "promised", promised, today=today, aside="a day, or +8; empty: none")
        yield TextField("client", "client", (known.client or "") if known else "")
        yield number_field("price", "price", known.price if known else None, low=0, aside="for all of it")
        yield number_field("minutes", "minutes", known.minutes if known else None, low=0, aside="empty: from the bench times")
        late, wait = (known.late_cost_per_day, known.wait_cost_per_day) if known else (None, None)
        yield number_field("late_cost_per_day", "late costs", late, low=0, aside="each day after its date; empty: 1 a day")
        yield number_field("wait_cost_per_day", "waiting costs", wait, low=0, aside="each day from today on; empty: nothing")

    def on_picker_field_created(self, event: PickerField.Created) -> None:
        """A paper that is not there yet is described in place."""
        describe(self, event)

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
        told = await self.logbook.study.run(partial(_ready, today=today, known=self.model.order, fields=fields))
        self.query_one("#ready", Static).update(Content(told))

    def act(self) -> Callable[[Store], Entry]:
        fields: dict[str, Any] = {"title": self.required("title"), "prints": self.required("prints")}
        fields["paper"] = named_paper(self)
        fields |= {name: self.value(name) for name in ("black", "promised", "client", "price", "minutes")}
        costs = {"late_cost_per_day": 1.0, "wait_cost_per_day": 0.0}
        fields |= {name: usual if (told := self.value(name)) is None else told for name, usual in costs.items()}
        if fields["paper"] is None and fields["black"] is None:
            raise Refused("paper", "an order names a paper, or the black that any paper for it needs")
        if self.model.order is not None:
            return partial(_change, order=self.model.order, fields=fields)
        return partial(_take, taken=self.logbook.now().date(), fields=fields)


def _ready(store: Store, today: date, known: Order | None, fields: dict[str, Any]) -> str:
    """Whether what is typed would be ready in time; nothing while it says too little."""
    import msgspec

    from logbook.records import Order
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


def _take(store: Store, taken: Any, fields: dict[str, Any]) -> Entry:
    from logbook.actions import orders

    return orders.take(store, taken=taken, **fields)


def _change(store: Store, order: Order, fields: dict[str, Any]) -> Entry:
    from logbook.actions import orders

    return orders.change(store, order, **fields)
