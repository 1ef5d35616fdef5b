"""What the forms offer to choose from, read on the store's thread; what was used last comes first."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import length_text
from logbook.tui.widgets.fields.choice_row import Choice
from logbook.tui.widgets.fields.picker import Option

if TYPE_CHECKING:
    from logbook.records import Printer, Record, Stock
    from logbook.store import Store

Options = tuple[Option, ...]
BLACKS = (Choice("matte", "matte"), Choice("photo", "photo"))


def named(store: Store, kind: type[Record]) -> Options:
    """Everything of a kind by its name or title, the newest first."""
    from logbook.actions.shelf import name_of
    from logbook.store import reading

    return tuple(Option(record.id, name_of(record)) for record in reversed(reading.every(store, kind)))


def open_orders(store: Store) -> Options:
    """The orders that are not done, in their sequence."""
    from logbook.snapshot import orders, take

    return tuple(Option(order.id, plain(order.title)) for order in orders.open_orders(take(store)))


def open_stock(store: Store, paper: str | None) -> Options:
    """The rolls and boxes of a paper that are open, the last opened first; the second of one day is told apart by a number."""
    from logbook.snapshot import stock as rolls
    from logbook.snapshot import take

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


def used_values(store: Store, setting: str) -> Options:
    """The texts that a setting had on earlier prints, the latest first."""
    from logbook.store import lately

    return tuple(Option(value, plain(value)) for value in lately.used_values(store, setting))


def offered(field: str, paper: str | None) -> Callable[[Store], Options]:
    """Reads what the field offers now."""
    return partial(_offered, field=field, paper=paper)


def _offered(store: Store, field: str, paper: str | None) -> Options:
    from logbook.records import Paper, Printer

    if field == "order":
        return open_orders(store)
    if field == "stock":
        return open_stock(store, paper)
    return named(store, Paper if field == "paper" else Printer)


def printer_in_use(store: Store) -> Printer:
    """The printer in use; ``Refused`` while there is none."""
    from logbook.snapshot import printer as machine
    from logbook.snapshot import take

    printer = machine.printer_in_use(take(store))
    if printer is None:
        raise Refused("", "Describe the printer first: it stands on Shelf.")
    return printer
