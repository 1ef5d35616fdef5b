"""Batches: orders, the plan, and when to exchange the black."""

from __future__ import annotations

import datetime as dt
from functools import partial
from typing import TYPE_CHECKING, ClassVar

import msgspec
from textual import on
from textual.app import ComposeResult
from textual.binding import BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.widgets import Static

from logbook.records.fields import Black, other_black
from logbook.records.text import plain
from logbook.reports.batch.model import BatchAnswer, Changes, OrderLine
from logbook.reports.batch.sentences import verdict_sentence
from logbook.reports.batch.words import promise_text
from logbook.reports.shared.table import wrapped
from logbook.tui.commands.command import bindings
from logbook.tui.commands.open_form import open_form
from logbook.tui.frame.hint_line import HintLine
from logbook.tui.places.batches.commands import COMMANDS
from logbook.tui.places.batches.supposing import Supposing
from logbook.tui.places.batches.views import VIEWS, BatchModel, order_heading, order_line, supposed_line, view_lines
from logbook.tui.places.place import READ_ON, Place
from logbook.tui.widgets.lists.headings import Headings
from logbook.tui.widgets.lists.lines import Lines
from logbook.tui.widgets.lists.view_names import ViewNames

if TYPE_CHECKING:
    from logbook.store import Store

VIEWS_LINES = 3
NO_ORDERS = "No order is open. Press o to take one."


class Batches(Place[BatchModel]):
    """Is a matte or a photo batch due? The cheapest plan for the open orders, and the standing rule as orders keep coming.

    tab goes from the plan to the orders, the map of the standing rule, and past changeovers. o takes an order; among the
    orders enter changes one, d logs it as done, C as called off. + and − suppose dearer or cheaper changeovers, s one more
    print on order, < and > move the chosen order's promise: the plan moves at once and nothing is saved; esc goes back to
    what is logged.
    """

    SLOW = True
    COMMANDS_HERE = COMMANDS
    HINTS = (
        "next-batch-view",
        "change-order",
        "order-done",
        "order-called-off",
        "suppose-nothing",
        "take-an-order",
        "suppose-one-print-more",
        "suppose-dearer-changeovers",
        "suppose-cheaper-changeovers",
        "suppose-it-earlier",
        "suppose-it-later",
        "bench-times",
    )
    BINDINGS: ClassVar[list[BindingType]] = [
        *bindings(COMMANDS),
        *READ_ON,
    ]

    def __init__(self) -> None:
        super().__init__()
        self._model: BatchModel | None = None
        self._supposing = Supposing()
        self._asked: str | None = None  # the order that was to be done with nothing kept
        self._orders: Lines[OrderLine] = Lines(order_line, id="orders", empty=NO_ORDERS)
        self._orders.display = False

    def body(self) -> ComposeResult:
        yield Static("", id="batch-verdict", markup=False)
        yield Static("", id="batch-supposed", markup=False)
        yield ViewNames(VIEWS, id="batch-views")
        yield Headings(self._orders, _heading_line)
        yield self._orders
        yield Static("", id="order-ready", classes="quiet", markup=False)
        with VerticalScroll(id="batch", can_focus=False):
            yield Static("", id="batch-lines")

    def on_mount(self) -> None:
        """Follow which view is open."""
        self.watch(self.query_one(ViewNames), "opened", self._show_view, init=False)

    def read(self, store: Store) -> BatchModel:
        return read_model(store, self.logbook.now().date(), self._supposing.changes)

    def show(self, model: BatchModel) -> None:
        self._model = model
        self._supposing.learn(model.answer)
        self._draw()
        # What can be done is known only now.
        self.query_one(HintLine).refresh()

    # What is looked at

    @property
    def row(self) -> OrderLine | None:
        """The chosen order, where the orders are shown."""
        return self._orders.row if self._view == "orders" else None

    @property
    def _view(self) -> str:
        return self.query_one(ViewNames).opened

    def _show_view(self) -> None:
        """Show the opened view, from its beginning."""
        self.query_one("#batch", VerticalScroll).scroll_home(animate=False)
        self._draw()
        self.query_one(HintLine).refresh()

    def on_resize(self) -> None:
        """Other lines may fit."""
        self.call_after_refresh(self._draw)

    # Orders

    @on(Lines.Moved)
    def _say_if_ready(self) -> None:
        """Below the orders: whether the chosen one keeps its date."""
        ready = self.query_one("#order-ready", Static)
        ready.display = self.row is not None
        if self.row is not None and self._model is not None:
            ready.update(Content(f"{plain(self.row.title)}: {promise_text(self.row, self._model.answer.today)}"))

    @on(Lines.Chosen)
    async def _order_chosen(self) -> None:
        await self.change_order()

    async def change_order(self) -> None:
        """Lay the form of the chosen order over the place."""
        from logbook.tui.forms.record_form import changing, made_as_read

        if self.row is not None and not self._supposing.is_supposed(self.row.id):
            await open_form(self.logbook, partial(changing, kind="order", record_id=self.row.id), made_as_read)

    async def finish_order(self) -> None:
        """Log the chosen order as done; where nothing of it is kept, only once the key was pressed again."""
        from logbook.actions import orders
        from logbook.records.refusal import Refused

        if self.row is None or self._supposing.is_supposed(self.row.id):
            return
        work = partial(orders.finish, order=self.row.id, done=self.logbook.now().date(), sure=self._asked == self.row.id)
        try:
            self.logbook.tell(await self.logbook.write(work))
        except Refused:
            self._asked = self.row.id
            self.logbook.say("Nothing of it is kept yet: d again logs it as done, C as called off.")

    async def cancel_order(self) -> None:
        """Log the chosen order as called off."""
        from logbook.actions import orders

        if self.row is not None and not self._supposing.is_supposed(self.row.id):
            await self.logbook.save(partial(orders.cancel, order=self.row.id, day=self.logbook.now().date()))

    # What is supposed

    @property
    def supposes(self) -> bool:
        """Whether anything is supposed."""
        return self._supposing.changes.any

    def suppose_cost(self, steps: int) -> None:
        """Dearer or cheaper changeovers."""
        self._supposing.step_cost(steps)
        self.ask_again()

    def suppose_print(self, *, loaded: bool) -> None:
        """One more print on order."""
        if self._model is not None:
            answer = self._model.answer
            black: Black = answer.loaded if loaded else other_black(answer.loaded)
            self._supposing.add_print(black, answer.today)
            self.ask_again()

    def suppose_date(self, days: int) -> None:
        """The chosen order promised earlier or later."""
        if self.row is not None and self._model is not None:
            self._supposing.move(self.row, days, self._model.answer.today)
            self.ask_again()

    def suppose_nothing(self) -> None:
        """Back to what is logged."""
        self._supposing.clear()
        self.ask_again()

    # The screen

    def _draw(self) -> None:
        model = self._model
        if model is None:
            return
        orders = self._view == "orders"
        body = self.query_one("#body").content_size
        self._say(model.answer)
        for widget in (self._orders, self.query_one(Headings), self.query_one("#order-ready")):
            widget.display = orders
        self.query_one("#batch").display = not orders
        if orders:
            self._show_orders(model.answer)
        else:
            self.set_focus(None)
            room = body.height - self._lines_above(body.width)
            self.query_one("#batch-lines", Static).update(Content("\n").join(view_lines(self._view, model, body.width - 1, room)))

    def _lines_above(self, width: int) -> int:
        """Lines that the sentences and the names of the views take."""
        said = (self.query_one(selector, Static) for selector in ("#batch-verdict", "#batch-supposed"))
        words = [str(static.visual) for static in said if static.display]
        return VIEWS_LINES + sum(wrapped(text, width).count("\n") + 1 for text in words)

    def _say(self, answer: BatchAnswer) -> None:
        due = answer.verdict == "due"
        said = verdict_sentence(answer) + ("" if answer.orders else " Press o to take an order.")
        self.query_one("#batch-verdict", Static).update(Content.styled(said, "$asks bold" if due else ""))
        supposed = self.query_one("#batch-supposed", Static)
        words = supposed_line(self._supposing.changes, answer)
        supposed.display = bool(words)
        supposed.update(Content.styled(words, "$asks"))

    def _show_orders(self, answer: BatchAnswer) -> None:
        chosen = self._orders.row
        self._orders.show_rows(answer.orders)
        places = [order.id for order in answer.orders]
        if chosen is not None and chosen.id in places:
            # A moved promise changes an order's place: the cursor goes with it.
            self._orders.at = places.index(chosen.id)
        self._orders.focus()
        self._say_if_ready()
        # The list is as wide as it will be only once it has been laid out.
        self.call_after_refresh(self.query_one(Headings).refresh)


def _heading_line(width: int) -> Content:
    return Content.assemble(" ", order_heading(width - 1))


def read_model(store: Store, today: dt.date, changes: Changes) -> BatchModel:
    """The answer with what its pictures need."""
    from logbook.analysis.batch.rule import standing_rule
    from logbook.reports.batch import answer as batch
    from logbook.reports.batch import basis as batch_basis
    from logbook.snapshot import take
    from logbook.snapshot.away import times_away

    log = take(store, today)
    answer = batch.answer(log, changes=msgspec.structs.replace(changes) if changes.any else None)
    flow = batch_basis.flow_of(answer.basis) if answer.basis.shared_black_slot else None
    waiting = max(answer.waiting.matte, answer.waiting.photo)
    rule = standing_rule(flow, waiting) if flow is not None else None
    return BatchModel(answer, rule, times_away(log))
