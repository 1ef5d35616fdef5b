"""The form of a roll or box that is opened."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from textual.widget import Widget
from textual.widgets import Static

from logbook.records.units import exact_length_text
from logbook.tui.forms import offers
from logbook.tui.forms.form import Form
from logbook.tui.forms.offers import Options
from logbook.tui.forms.shelf.paper_in_place import describe, named_paper
from logbook.tui.widgets.fields.choice_row import switch
from logbook.tui.widgets.fields.field import Field
from logbook.tui.widgets.fields.picker import PickerField
from logbook.tui.widgets.fields.text_field import length_field, number_field

if TYPE_CHECKING:
    from logbook.actions.stock import StockAhead
    from logbook.records import Stock
    from logbook.store import Store
    from logbook.store.journal import Entry

CAUTION = "Cutters are sharp and rolls are heavy: the usual care, and the maker's instructions."


@dataclass(frozen=True, kw_only=True)
class StockModel:
    """The papers, the one that is meant, and what a fresh roll or box of each would be like."""

    papers: Options
    paper: str | None
    ahead: dict[str, StockAhead]
    open_papers: frozenset[str]
    known: Stock | None = None


def read(store: Store, paper: str | None = None, known: Stock | None = None) -> StockModel:
    """What the form of a fresh roll needs (without ``paper`` that of the roll in use), or of one to correct."""
    from logbook.actions import stock
    from logbook.records import Paper
    from logbook.snapshot import take
    from logbook.snapshot.stock import open_stock, stock_in_use

    log = take(store)
    papers = log.all(Paper)
    used = stock_in_use(log)
    return StockModel(
        papers=offers.named(store, Paper),
        paper=paper or (used.paper if used is not None else papers[-1].id if papers else None),
        ahead={one.id: stock.stock_ahead(store, one.id) for one in papers},
        open_papers=frozenset(one.paper for one in open_stock(log)),
        known=known,
    )


class StockForm(Form):
    """A fresh roll or box, which starts like the last one of its paper; or one that is there, to correct it."""

    def __init__(self, model: StockModel) -> None:
        super().__init__()
        self.model = model
        known = model.known
        opened = "" if known is None else f"{known.opened.day} {known.opened:%b %Y}"
        self.heading = f"The roll or box opened {opened}" if opened else "A fresh roll or box"
        self.draft_name = "stock" if known is None else f"stock {known.id[:32]}"

    def fields(self) -> Iterable[Widget]:
        ahead = self.model.known or self.model.ahead.get(self.model.paper or "")
        yield PickerField("paper", "paper", self.model.papers, self.model.paper, new="paper", described=True)
        yield length_field("width_mm", "width", ahead.width_mm if ahead else None)
        yield length_field("length_mm", "length", ahead.length_mm if ahead else None, aside="of a roll")
        yield number_field("sheets", "or sheets", ahead.sheets if ahead else None, low=0, whole=True, aside="in a box")
        yield number_field("price", "price", ahead.price if ahead else None, low=0, aside="of all of it")
        if self.model.known is None:
            yield switch("finish_others", "finishes", True, aside=self._finishes(self.model.paper))
        yield Static("What is left of it is worked out from the prints.", classes="quiet", markup=False)
        yield Static(CAUTION, classes="quiet", markup=False)

    def on_change(self, field: Field) -> None:
        if field.name == "paper" and self.model.known is None:
            self._follow_the_paper()

    def on_picker_field_created(self, event: PickerField.Created) -> None:
        """A paper that is not there yet is described in place."""
        describe(self, event, self._read_again)

    async def _read_again(self) -> None:
        """What a fresh roll of each paper would be like, the new one among them."""
        self.model = await self.logbook.desk.run(partial(read, paper=self.model.paper, known=self.model.known))

    def _follow_the_paper(self) -> None:
        """Another paper: its last roll's measures."""
        paper = self.value_or_none("paper")
        ahead = self.model.ahead.get(paper) if isinstance(paper, str) else None
        if ahead is None:
            return
        for name in ("width_mm", "length_mm"):
            measure = getattr(ahead, name)
            self.field(name, Field).restore("" if measure is None else exact_length_text(measure))
        for name in ("sheets", "price"):
            number = getattr(ahead, name)
            self.field(name, Field).restore("" if number is None else f"{number:g}")
        self.field("finish_others", Field).set_aside(self._finishes(paper))

    def _finishes(self, paper: str | None) -> str:
        return "what is open of this paper" if paper in self.model.open_papers else "nothing of it is open"

    def act(self) -> Callable[[Store], Entry]:
        paper = named_paper(self) or self.required("paper")
        fields: dict[str, Any] = {name: self.value(name) for name in ("width_mm", "length_mm", "sheets", "price")}
        if self.model.known is not None:
            return partial(_correct, stock=self.model.known, paper=paper, **fields)
        return partial(
            _open,
            paper=paper,
            opened=self.logbook.now().replace(microsecond=0),
            finish_others=bool(self.value("finish_others")),
            **fields,
        )


def finishing(stock_id: str) -> Callable[[Store], Entry]:
    """The action that says a roll or box is finished."""
    return partial(_finish, stock_id=stock_id)


def opening_again(stock_id: str) -> Callable[[Store], Entry]:
    """The action that says a finished roll or box is in use after all."""
    return partial(_open_again, stock_id=stock_id)


def _open_again(store: Store, stock_id: str) -> Entry:
    from logbook.actions import stock

    return stock.open_again(store, stock_id)


def _finish(store: Store, stock_id: str) -> Entry:
    from logbook.actions import stock

    return stock.finish(store, stock_id)


def _correct(store: Store, stock: Stock, **fields: Any) -> Entry:
    import msgspec

    from logbook.actions import shelf
    from logbook.actions.writing import made

    return shelf.put(store, made(lambda: msgspec.structs.replace(stock, **fields)))


def _open(store: Store, paper: str, **fields: Any) -> Entry:
    from logbook.actions import stock

    return stock.open_new(store, paper, **fields)
