"""What does not go together on a print about to be logged. Shown before saving, never forbidden: the sheet is out already."""

from datetime import datetime, timedelta
from typing import TypeVar

import msgspec

from logbook.actions.log_print import PrintForm
from logbook.analysis.month.paper_use import ROUNDING_MM
from logbook.records import Order, Paper, Print, Printer, Record, Stock
from logbook.records.text import plain
from logbook.records.units import length_text, number_text
from logbook.records.wording import MONTHS
from logbook.snapshot import take
from logbook.snapshot.printer import loaded_black
from logbook.snapshot.stock import length_used_mm, roll_left_mm, roll_width_mm, sheets_left
from logbook.store import Store, lately, reading

R = TypeVar("R", bound=Record)
CLOCKS_DIFFER = timedelta(minutes=10)  # of two machines, without anybody noticing


class Clash(msgspec.Struct, frozen=True):
    """One thing that clashes: the field where it shows, and a sentence."""

    where: str
    what: str


class SheetUse(msgspec.Struct, frozen=True, kw_only=True):
    """The sheet a print takes, and what it leaves of the roll or box; None where that cannot be known. In mm."""

    sheet_width_mm: float
    sheet_height_mm: float
    roll_length_mm: float | None
    roll_left_mm: float | None
    sheets_left: int | None


def sheet_use(store: Store, form: PrintForm, print_id: str | None = None) -> SheetUse | None:
    """What the print takes; None while its size is missing. ``print_id`` is the print that is being corrected."""
    if form.width_mm is None or form.height_mm is None:
        return None
    border = form.border_mm or 0
    stock, roll = _stock(store, form), _across_mm(store, form)
    used = length_used_mm(form.width_mm, form.height_mm, border, roll) if roll is not None and _from_roll(store, form) else None
    left = roll_left_mm(take(store), stock) if stock is not None else None
    sheets = sheets_left(take(store), stock) if stock is not None else None
    there = _get(store, Print, print_id)
    if there is not None and stock is not None and there.stock == stock.id:  # it has taken its part already
        if left is not None and roll is not None:
            left += length_used_mm(there.width_mm, there.height_mm, there.border_mm or 0, roll)
        sheets = sheets + 1 if sheets is not None else None
    return SheetUse(
        sheet_width_mm=form.width_mm + 2 * border,
        sheet_height_mm=form.height_mm + 2 * border,
        roll_length_mm=used,
        roll_left_mm=left - used if left is not None and used is not None else None,
        sheets_left=sheets - 1 if sheets is not None else None,
    )


def clashes(
    store: Store, form: PrintForm, print_id: str | None = None, now: datetime | None = None
) -> tuple[Clash, ...]:  # fmt: skip
    """Everything about the form that does not go together, the most costly first; ``now`` is what the clock says."""
    found = (
        _clock(store, form, now) if print_id is None else None,
        _black(store, form),
        *_width(store, form),
        _amount(store, form, print_id),
        _scale(form),
        _profile(store, form),
        _order(store, form),
        _edition(store, form, print_id),
    )
    return tuple(clash for clash in found if clash is not None)


def _clock(store: Store, form: PrintForm, now: datetime | None) -> Clash | None:
    """A clock that fell back since the print logged last, or was ahead then. What is logged last stays the newest."""
    last = lately.newest_print(store) if form.at is None and now is not None else None
    if last is None or now is None or last.at <= now + CLOCKS_DIFFER:
        return None
    return Clash("at", f"the clock says {_moment(now)}, before the print logged last, of {_moment(last.at)}")


def _moment(at: datetime) -> str:
    return f"{at.day} {MONTHS[at.month - 1]} {at.year}, {at:%H:%M}"


def _black(store: Store, form: PrintForm) -> Clash | None:
    printer, paper = _get(store, Printer, form.printer), _get(store, Paper, form.paper)
    if printer is None or paper is None or not printer.shared_black_slot:
        return None
    loaded = loaded_black(take(store), printer, form.at)
    if loaded == paper.black:
        return None
    return Clash("paper", f"{plain(paper.name)} needs {paper.black} black, and {loaded} is loaded")


def _width(store: Store, form: PrintForm) -> list[Clash | None]:
    if form.width_mm is None or form.height_mm is None:
        return []
    border = 2 * (form.border_mm or 0)
    short, long = sorted((form.width_mm + border, form.height_mm + border))
    printer, across = _get(store, Printer, form.printer), _across_mm(store, form)
    widest = printer.max_width_mm if printer is not None else None
    wide: Clash | None = None
    if widest is not None and short > widest + ROUNDING_MM:
        wide = Clash("size", f"the sheet is {length_text(short)} across, and the printer takes {length_text(widest)}")
    elif across is not None and short > across + ROUNDING_MM:
        thing = "roll" if _from_roll(store, form) else "sheet"
        wide = Clash("size", f"the sheet is {length_text(short)} across, and the {thing} is {length_text(across)} wide")
    return [wide, _longer_than_sheet(store, form, long)]


def _longer_than_sheet(store: Store, form: PrintForm, long: float) -> Clash | None:
    paper = _get(store, Paper, form.paper)
    if paper is None or _from_roll(store, form) or paper.width_mm is None or paper.length_mm is None:
        return None
    longest = max(paper.width_mm, paper.length_mm)
    if long <= longest + ROUNDING_MM:
        return None
    return Clash("size", f"the image with its border is {length_text(long)} long, and the sheet {length_text(longest)}")


def _amount(store: Store, form: PrintForm, print_id: str | None) -> Clash | None:
    use = sheet_use(store, form, print_id)
    if use is not None and use.roll_left_mm is not None and use.roll_length_mm is not None and use.roll_left_mm < -ROUNDING_MM:
        there = max(0.0, use.roll_left_mm + use.roll_length_mm)
        return Clash("stock", f"it takes {length_text(use.roll_length_mm)} of the roll, and {length_text(there)} are left")
    if use is not None and use.sheets_left is not None and use.sheets_left < 0:
        return Clash("stock", "by the log, the box is empty")
    return None


def _scale(form: PrintForm) -> Clash | None:
    scale = form.settings.get("scale_percent")
    if scale is None or isinstance(scale, str | bool) or abs(scale - 100) < 1e-9:
        return None
    return Clash("scale_percent", f"the scale is {number_text(scale, 2)} %, so the print is not the size of its file")


def _profile(store: Store, form: PrintForm) -> Clash | None:
    paper, profile = _get(store, Paper, form.paper), form.settings.get("profile")
    if paper is None or not profile:
        return None
    usual = paper.profile or lately.usual_profile(store, paper.id)
    if usual is None or usual == profile:
        return None
    return Clash("profile", f"the usual profile on {plain(paper.name)} is {plain(usual)}")


def _order(store: Store, form: PrintForm) -> Clash | None:
    order, paper = _get(store, Order, form.order), _get(store, Paper, form.paper)
    if order is None or paper is None:
        return None
    wanted = _get(store, Paper, order.paper)
    if wanted is not None and wanted.id != paper.id:
        return Clash("order", f"the order {plain(order.title)} asks for {plain(wanted.name)}")
    if order.black is not None and order.black != paper.black:
        return Clash("order", f"the order {plain(order.title)} asks for a paper of {order.black} black")
    return None


def _edition(store: Store, form: PrintForm, print_id: str | None) -> Clash | None:
    if form.picture is None or form.edition_number is None:
        return None
    if form.edition_number in lately.edition_numbers(store, form.picture, form.edition_size, without=print_id):
        return Clash("edition_number", f"number {form.edition_number} of this edition is on another print already")
    return None


def _stock(store: Store, form: PrintForm) -> Stock | None:
    return _get(store, Stock, form.stock)


def _across_mm(store: Store, form: PrintForm) -> float | None:
    """The width that the sheet must pass: the roll's, or the short side of a cut sheet."""
    stock, paper = _stock(store, form), _get(store, Paper, form.paper)
    if paper is None:
        return None
    if _from_roll(store, form):
        return roll_width_mm(stock, paper) if stock is not None else paper.width_mm
    return min(paper.width_mm, paper.length_mm) if paper.width_mm and paper.length_mm else paper.width_mm


def _from_roll(store: Store, form: PrintForm) -> bool:
    stock, paper = _stock(store, form), _get(store, Paper, form.paper)
    if stock is not None and (stock.sheets is not None or stock.length_mm is not None):
        return stock.sheets is None
    return paper is not None and paper.form == "roll"


def _get(store: Store, kind: type[R], record_id: str | None) -> R | None:
    return reading.get(store, kind, record_id) if record_id is not None else None
