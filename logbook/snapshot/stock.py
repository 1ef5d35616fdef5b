"""Rolls and boxes: which are open, and what is left of them, worked out from the prints."""

from logbook.records import Paper, Stock
from logbook.records.units import ROUNDING_MM, length_text
from logbook.snapshot.snapshot import Snapshot


def open_stock(log: Snapshot, paper: str | None = None) -> list[Stock]:
    """Rolls and boxes that are open, the last opened first; of one paper, where given."""
    return [stock for stock in reversed(log.all(Stock)) if stock.closed is None and paper in (None, stock.paper)]


def stock_in_use(log: Snapshot) -> Stock | None:
    """The roll or box that prints come from: the last print's, while it is open; else the last opened of that paper."""
    last = log.newest_print()
    stock = log.get(Stock, last.stock) if last is not None else None
    if stock is not None and stock.closed is None:
        return stock
    return next(iter(open_stock(log, last.paper if last is not None else None)), None)


def roll_width_mm(stock: Stock, paper: Paper) -> float | None:
    """The width of a roll or of a box's sheets: the stock's own, else the paper's."""
    return stock.width_mm or paper.width_mm


def length_used_mm(width_mm: float, height_mm: float, border_mm: float, roll_mm: float) -> float:
    """The length of roll a print takes, laid the way that fits and uses least; of one print, as the first screen asks for it
    before it imports numpy, what ``paper_use.from_roll`` says of many.

    >>> length_used_mm(400, 500, 25, 610)
    450
    """
    short, long = sorted((width_mm + 2 * border_mm, height_mm + 2 * border_mm))
    return short if long <= roll_mm + ROUNDING_MM else long


def roll_left_mm(log: Snapshot, stock: Stock) -> float | None:
    """What is left of a roll: its length less what its prints took; None for a box, or where a measure is unknown."""
    paper = log.get(Paper, stock.paper)
    width = roll_width_mm(stock, paper) if paper is not None else None
    if stock.length_mm is None or width is None:
        return None
    taken = log.taken_from(stock.id)
    used = sum(length_used_mm(size.width_mm, size.height_mm, size.border_mm, width) * size.prints for size in taken)
    return stock.length_mm - used


def sheets_left(log: Snapshot, stock: Stock) -> int | None:
    """What is left of a box; None for a roll."""
    if stock.sheets is None:
        return None
    return stock.sheets - sum(size.prints for size in log.taken_from(stock.id))


def left_text(log: Snapshot, stock: Stock) -> str:
    """What is left, in words; empty where its length or number is not known."""
    sheets = sheets_left(log, stock)
    if sheets is not None:
        return f"{max(0, sheets)} sheets"
    left = roll_left_mm(log, stock)
    return "" if left is None else length_text(max(0.0, left))
