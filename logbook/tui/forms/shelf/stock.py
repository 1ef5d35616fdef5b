"""The form of a roll or box that is opened, or corrected."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from functools import partial
from typing import TYPE_CHECKING, Any

import msgspec
from textual.widget import Widget

from logbook.actions import stock
from logbook.records import Paper, Stock
from logbook.records.declared import Declared
from logbook.snapshot import take
from logbook.snapshot.stock import open_stock, stock_in_use
from logbook.tui.forms import offers
from logbook.tui.forms.record_form import RecordForm, RecordModel
from logbook.tui.widgets.fields.choice_row import switch
from logbook.tui.widgets.fields.field import Field

if TYPE_CHECKING:
    from logbook.actions.stock import StockAhead
    from logbook.store import Store
    from logbook.store.journal import Entry


@dataclass(frozen=True, kw_only=True)
class StockModel(RecordModel):
    """What a fresh roll or box of each paper would be like, and the papers of which one is open."""

    ahead: Mapping[str, StockAhead] = field(default_factory=dict)
    open_papers: frozenset[str] = frozenset()


class StockForm(RecordForm):
    """A fresh roll or box, which starts like the last one of its paper; or one that is there, to correct it."""

    kind, called = Stock, "A fresh roll or box"
    quiet = (
        "What is left of it is worked out from the prints.",
        "Cutters are sharp and rolls are heavy: the usual care, and the maker's instructions.",
    )
    model: StockModel

    @classmethod
    def read(cls, store: Store, *, known: Any = None, named: str = "", **start: Any) -> StockModel:
        """Without a ``paper`` to start with it is that of the roll in use."""
        log = take(store)
        papers, used = [paper.id for paper in log.all(Paper)], stock_in_use(log)
        paper = start.get("paper") or (used.paper if used is not None else papers[-1] if papers else None)
        ahead = {one: stock.stock_ahead(store, one) for one in papers}
        like = msgspec.structs.asdict(ahead[paper]) if paper in ahead else {}
        return StockModel(
            known=known,
            start={"paper": paper, **like},
            options={"paper": offers.named(store, Paper)},
            named=named,
            ahead=ahead,
            open_papers=frozenset(one.paper for one in open_stock(log)),
        )

    def known_heading(self) -> str:
        opened = self.model.known.opened
        return f"The roll or box opened {opened.day} {opened:%b %Y}"

    def widgets_of(self, one: Declared, value: Any) -> Iterable[Widget]:
        yield from super().widgets_of(one, value)
        if one.name == "price" and self.model.known is None:
            yield switch("finish_others", "finishes", True, aside=self._finishes(self.model.start["paper"]))

    def on_change(self, field: Field) -> None:
        if field.name == "paper" and self.model.known is None:
            self._follow_the_paper()

    async def read_again(self) -> None:
        """What a fresh roll of each paper would be like, the new one among them."""
        self.model = await self.logbook.desk.run(partial(self.read, known=self.model.known))

    def _follow_the_paper(self) -> None:
        """Another paper: its last roll's measures."""
        paper = self.value_or_none("paper")
        ahead = self.model.ahead.get(paper) if isinstance(paper, str) else None
        if ahead is not None:
            for name, measure in msgspec.structs.asdict(ahead).items():
                self.field(name).give(measure)
            self.field("finish_others").set_aside(self._finishes(paper))

    def _finishes(self, paper: Any) -> str:
        return "the one of this paper that is open" if paper in self.model.open_papers else "nothing of it is open"

    def act(self) -> Callable[[Store], Entry]:
        if self.model.known is not None:
            return super().act()
        return partial(stock.open_new, finish_others=bool(self.value("finish_others")), **self.values())
