"""How things stand at the bench: the black that is loaded, what is left of a roll, the last level of every ink."""

from datetime import datetime

import msgspec

from logbook.actions.refusal import Refused
from logbook.analysis.month import paper_use
from logbook.records import Cartridge, Changeover, Gauge, Paper, Print, Printer, Stock
from logbook.records.fields import BLACK_INK, Black
from logbook.store import Store, lately, reading


class InkLevel(msgspec.Struct, frozen=True, kw_only=True):
    """The last known level of an ink; ``percent`` is None where nothing was ever read or installed."""

    ink: str
    percent: float | None
    at: datetime | None
    loaded: bool


def print_meant(store: Store, print_id: str | None = None) -> Print:
    """The print of that id, else the newest; ``Refused`` where there is none."""
    found = reading.get(store, Print, print_id) if print_id is not None else lately.newest_print(store)
    if found is None:
        raise Refused("print", "there is no print yet")
    return found


def printer_of(store: Store, printer: str) -> Printer:
    """The printer of that id; ``Refused`` where there is none."""
    known = reading.get(store, Printer, printer)
    if known is None:
        raise Refused("printer", "describe the printer first")
    return known


def printer_in_use(store: Store) -> Printer | None:
    """The printer of the last print, else the one described last."""
    last = lately.newest_print(store)
    if last is not None:
        return reading.get(store, Printer, last.printer)
    described = reading.every(store, Printer)
    return described[-1] if described else None


def loaded_black(store: Store, printer: Printer, at: datetime | None = None) -> Black:
    """The black in the slot now, or as it was at ``at``.

    The last changeover's, else the printer's black at the start, else that of the last print's paper, else matte.
    """
    changeovers = [one for one in reading.where(store, Changeover, "printer", printer.id) if at is None or one.at <= at]
    if changeovers:
        return changeovers[-1].to_black
    if printer.black_at_start is not None:
        return printer.black_at_start
    last = lately.newest_print(store, printer=printer.id)
    paper = reading.get(store, Paper, last.paper) if last is not None else None
    return paper.black if paper is not None else "matte"


def is_loaded(printer: Printer, ink: str, loaded: Black) -> bool:
    """Whether an ink is in the printer's lines: every one is, but for the black whose slot the other has."""
    return not printer.shared_black_slot or ink not in BLACK_INK.values() or ink == BLACK_INK[loaded]


def levels_now(store: Store, printer: Printer) -> tuple[InkLevel, ...]:
    """The last known level of every ink in the order of the display; a black that is not loaded keeps its last."""
    loaded = loaded_black(store, printer)
    gauges = reading.where(store, Gauge, "printer", printer.id)
    cartridges = reading.where(store, Cartridge, "printer", printer.id)
    return tuple(_level(ink, gauges, cartridges, is_loaded(printer, ink, loaded)) for ink in printer.ink_names)


def _level(ink: str, gauges: list[Gauge], cartridges: list[Cartridge], loaded: bool) -> InkLevel:
    cartridge = next((one for one in reversed(cartridges) if one.ink == ink), None)
    gauge = next((one for one in reversed(gauges) if ink in one.levels), None)
    if gauge is not None and (cartridge is None or gauge.at >= cartridge.installed):
        return InkLevel(ink=ink, percent=gauge.levels[ink], at=gauge.at, loaded=loaded)
    if cartridge is not None:
        return InkLevel(ink=ink, percent=cartridge.start_percent, at=cartridge.installed, loaded=loaded)
    return InkLevel(ink=ink, percent=None, at=None, loaded=loaded)


def cartridge_in(store: Store, printer: str, ink: str, at: datetime | None = None) -> Cartridge | None:
    """The cartridge of an ink that is in the printer now, or was at ``at``."""
    known = [one for one in reading.where(store, Cartridge, "printer", printer) if one.ink == ink]
    in_then = [one for one in known if (one.removed is None if at is None else _on(one, at))]
    return in_then[-1] if in_then else None


def readings_of(store: Store, printer: str, ink: str, cartridge: Cartridge | None) -> list[tuple[datetime, float]]:
    """The levels read of an ink, in time order; only those on ``cartridge`` where it is given."""
    return [
        (gauge.at, gauge.levels[ink])
        for gauge in reading.where(store, Gauge, "printer", printer)
        if ink in gauge.levels and (cartridge is None or _on(cartridge, gauge.at))
    ]


def _on(cartridge: Cartridge, at: datetime) -> bool:
    return cartridge.installed <= at and (cartridge.removed is None or at < cartridge.removed)


def roll_width_mm(stock: Stock, paper: Paper) -> float | None:
    """The width of a roll or of a box's sheets: the stock's own, else the paper's."""
    return stock.width_mm or paper.width_mm


def length_used_mm(width_mm: float, height_mm: float, border_mm: float, roll_mm: float) -> float:
    """The length of roll a print takes, laid the way that fits and uses least.

    >>> length_used_mm(400, 500, 25, 610)
    450.0
    """
    return float(paper_use.from_roll(width_mm, height_mm, border_mm, roll_mm).length_mm[0])


def roll_left_mm(store: Store, stock: Stock) -> float | None:
    """What is left of a roll: its length less what its prints took; None for a box, or where a measure is unknown."""
    paper = reading.get(store, Paper, stock.paper)
    width = roll_width_mm(stock, paper) if paper is not None else None
    if stock.length_mm is None or width is None:
        return None
    taken = lately.taken_from(store, stock.id)
    used = sum(length_used_mm(size.width_mm, size.height_mm, size.border_mm, width) * size.prints for size in taken)
    return stock.length_mm - used


def sheets_left(store: Store, stock: Stock) -> int | None:
    """What is left of a box; None for a roll."""
    if stock.sheets is None:
        return None
    return stock.sheets - sum(size.prints for size in lately.taken_from(store, stock.id))


def open_stock(store: Store, paper: str | None = None) -> list[Stock]:
    """Rolls and boxes that are open, the last opened first; of one paper, where given."""
    known = reading.every(store, Stock) if paper is None else reading.where(store, Stock, "paper", paper)
    return [stock for stock in reversed(known) if stock.closed is None]


def stock_in_use(store: Store) -> Stock | None:
    """The roll or box that prints come from: the last print's, while it is open; else the last opened of that paper."""
    last = lately.newest_print(store)
    if last is None:
        found = open_stock(store)
        return found[0] if found else None
    if last.stock is not None:
        stock = reading.get(store, Stock, last.stock)
        if stock is not None and stock.closed is None:
            return stock
    found = open_stock(store, last.paper)
    return found[0] if found else None
