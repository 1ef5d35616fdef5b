"""The form of an order: taken, or changed."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.widget import Widget

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.tui.forms import offers
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import BLACKS, Options
from logbook.tui.forms.shelf.paper_in_place import describe, named_paper
from logbook.tui.widgets.fields.choice_row import ChoiceRow
from logbook.tui.widgets.fields.picker import PickerField
from logbook.tui.widgets.fields.text_field import TextField, date_field, number_field

if TYPE_CHECKING:
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
        yield TextField("title", "title", title, placeholder="three for the stair")
        yield number_field("prints", "prints", known.prints if known else None, low=1, whole=True)
        yield PickerField("paper", "paper", self.model.papers, paper, new="paper", described=True)
        yield ChoiceRow("black", "or any paper", BLACKS, known.black if known else None)
        promised = known.promised if known else None
        yield date_field("promised", "promised", promised, today=today, aside="a day, or +8; empty: none")
        yield TextField("client", "client", (known.client or "") if known else "")
        yield number_field("price", "price", known.price if known else None, low=0, aside="for all of it")
        yield number_field("minutes", "minutes", known.minutes if known else None, low=0, aside="empty: from the bench times")

    def on_picker_field_created(self, event: PickerField.Created) -> None:
        """A paper that is not there yet is described in place."""
        describe(self, event)

    def act(self) -> Callable[[Store], Entry]:
        fields: dict[str, Any] = {"title": self.required("title"), "prints": self.required("prints")}
        fields["paper"] = named_paper(self)
        fields |= {name: self.value(name) for name in ("black", "promised", "client", "price", "minutes")}
        if fields["paper"] is None and fields["black"] is None:
            raise Refused("paper", "an order names a paper, or the black that any paper for it needs")
        if self.model.order is not None:
            return partial(_change, order=self.model.order, fields=fields)
        return partial(_take, taken=self.logbook.now().date(), fields=fields)


def _take(store: Store, taken: Any, fields: dict[str, Any]) -> Entry:
    from logbook.actions import orders

    return orders.take(store, taken=taken, **fields)


def _change(store: Store, order: Order, fields: dict[str, Any]) -> Entry:
    from logbook.actions import orders

    return orders.change(store, order, **fields)
