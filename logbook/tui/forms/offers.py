"""What the forms offer to choose from, read on the store's thread; what was used last comes first."""

from __future__ import annotations

from typing import TYPE_CHECKING

from logbook.actions.shelf import name_of
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import length_text
from logbook.snapshot import orders, take
from logbook.snapshot import printer as machine
from logbook.snapshot import stock as rolls
from logbook.store import reading
from logbook.tui.widgets.fields.picker import Option

if TYPE_CHECKING:
    from logbook.records import Printer, Record, Stock
    from logbook.store import Store

Options = tuple[Option, ...]


def named(store: Store, kind: type[Record]) -> Options:
    """Everything of a kind by its name or title, the newest first."""
    return tuple(Option(record.id, name_of(record)) for record in reversed(reading.every(store, kind)))


def open_orders(store: Store) -> Options:
    """The orders that are not done, in their sequence."""
    return tuple(Option(order.id, plain(order.title)) for order in orders.open_orders(take(store)))


def open_stock(store: Store, paper: str | None) -> Options:
    """The rolls and boxes of a paper that are open, the last opened first; the second of one day is told apart by a number."""
    options: list[Option] = []
    for stock in rolls.open_stock(take(store), paper) if paper else ():
        words = stock_words(stock)
        same = sum(option.name.startswith(words) for option in options)
        options.append(Option(stock.id, f"{words} ({same + 1})" if same else words))
    return tuple(options)


def stock_words(stock: Stock) -> str:
    """A roll or box in words: when it was opened, and how wide it is."""
    width = f", {length_text(stock.width_mm)} wide" if stock.width_mm is not None else ""
    return f"{stock.opened.day} {stock.opened:%b ’%y}{width}"


def printer_in_use(store: Store) -> Printer:
    """The printer in use; ``Refused`` while there is none."""
    printer = machine.printer_in_use(take(store))
    if printer is None:
        raise Refused("", "Describe the printer first: it stands on Shelf.")
    return printer
