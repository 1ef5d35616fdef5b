"""Rolls and boxes: opened, used and finished. What is left is worked out from the prints, never typed."""

from datetime import datetime
from typing import Any

import msgspec

from logbook.actions.writing import write
from logbook.records import Paper, Stock, new_id
from logbook.records.codec import validated
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import length_text
from logbook.snapshot import take
from logbook.snapshot.clock import now
from logbook.snapshot.stock import open_stock, roll_left_mm
from logbook.store import Store, reading
from logbook.store.journal import Entry


class StockAhead(msgspec.Struct, frozen=True, kw_only=True):
    """What a new roll or box of a paper would be like: as the last one, else as the paper says."""

    width_mm: float | None
    length_mm: float | None
    sheets: int | None
    price: float | None


def stock_ahead(store: Store, paper: str) -> StockAhead:
    """The measures and the price to start from for a new roll or box of ``paper``."""
    known = _paper(store, paper)
    earlier = reading.where(store, Stock, "paper", paper)
    if earlier:
        last = earlier[-1]
        return StockAhead(width_mm=last.width_mm, length_mm=last.length_mm, sheets=last.sheets, price=last.price)
    roll = known.form == "roll"
    return StockAhead(width_mm=known.width_mm, length_mm=known.length_mm if roll else None, sheets=None, price=None)


def open_new(
    store: Store,
    paper: str,
    *,
    opened: datetime | None = None,
    finish_others: bool = False,
    **measures: Any,
) -> Entry:
    """Log a roll or box as opened, with its ``measures`` and its price as a ``Stock`` has them.

    ``finish_others`` closes what was open of the same paper in the same entry.
    """
    known = _paper(store, paper)
    at = opened or now()
    stock = validated(Stock(id=new_id(), paper=paper, opened=at, **measures))
    finished = [_closed(other, at) for other in open_stock(take(store), paper) if finish_others and other.opened <= at]
    return write(store, f"New {_form(stock, known)} of {plain(known.name)} opened{_amount(stock)}", save=[*finished, stock])


def finish(store: Store, stock: str, closed: datetime | None = None) -> Entry:
    """Log a roll or box as finished."""
    known = _stock(store, stock)
    paper = _paper(store, known.paper)
    left = roll_left_mm(take(store), known)
    said = f"{_form(known, paper).capitalize()} of {plain(paper.name)} finished"
    if left is not None and left > 0:
        said += f" with {length_text(left)} not accounted for"
    return write(store, said, save=[_closed(known, closed or now())])


def open_again(store: Store, stock: str) -> Entry:
    """A roll or box is in use after all."""
    known = _stock(store, stock)
    paper = _paper(store, known.paper)
    again = msgspec.structs.replace(known, closed=None)
    return write(store, f"{_form(known, paper).capitalize()} of {plain(paper.name)} in use again", save=[again])


def _closed(stock: Stock, at: datetime) -> Stock:
    return validated(msgspec.structs.replace(stock, closed=at))


def _form(stock: Stock, paper: Paper) -> str:
    return "box" if stock.sheets is not None or paper.form == "sheet" else "roll"


def _amount(stock: Stock) -> str:
    if stock.sheets is not None:
        return f", {stock.sheets} sheets"
    return f", {length_text(stock.length_mm)}" if stock.length_mm is not None else ""


def _paper(store: Store, paper: str) -> Paper:
    known = reading.get(store, Paper, paper)
    if known is None:
        raise Refused("paper", "there is no such paper")
    return known


def _stock(store: Store, stock: str) -> Stock:
    known = reading.get(store, Stock, stock)
    if known is None:
        raise Refused("stock", "there is no such roll or box")
    return known
