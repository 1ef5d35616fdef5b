"""What does not go together on a print about to be logged. Shown before saving, never forbidden: the sheet is out already."""

from datetime import datetime, timedelta

import msgspec

from logbook.actions.log_print import PrintForm
from logbook.picture.size import cut_off
from logbook.records import Changeover, Order, Paper, Picture, Print, Printer, Stock
from logbook.records.text import plain
from logbook.records.units import ROUNDING_MM, length_text, number_text, share_text, size_text
from logbook.records.wording import MONTHS
from logbook.snapshot import Snapshot
from logbook.snapshot.printer import loaded_black
from logbook.snapshot.stock import length_used_mm, roll_left_mm, roll_width_mm, sheets_left

CLOCKS_DIFFER = timedelta(minutes=10)  # between two machines, before anybody notices


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


def sheet_use(log: Snapshot, form: PrintForm, print_id: str | None = None) -> SheetUse | None:
    """What the print takes; None while its size is missing. ``print_id`` is the print that is being corrected."""
    if form.width_mm is None or form.height_mm is None:
        return None
    border = form.border_mm or 0
    stock, roll = _stock(log, form), _across_mm(log, form)
    used = length_used_mm(form.width_mm, form.height_mm, border, roll) if roll is not None and _from_roll(log, form) else None
    left = roll_left_mm(log, stock) if stock is not None else None
    sheets = sheets_left(log, stock) if stock is not None else None
    there = log.get(Print, print_id)
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


def for_checks(log: Snapshot, form: PrintForm, print_id: str | None = None) -> Snapshot:
    """The snapshot with everything read that a check may ask, whatever is typed into ``form``: no check asks the file then."""
    for kind in (Paper, Stock, Order, Changeover, Picture):
        log.all(kind)
    for printer in log.all(Printer):
        log.newest_print(printer.id)
    for stock in log.all(Stock):
        if stock.closed is None or stock.id == form.stock:
            log.taken_from(stock.id)
    log.newest_print()
    log.get(Print, print_id)
    assert log.numbered is not None and log.usual_profiles is not None
    return log


def clashes(
    log: Snapshot, form: PrintForm, print_id: str | None = None, now: datetime | None = None, new: Picture | None = None
) -> tuple[Clash, ...]:  # fmt: skip
    """Everything about the form that does not go together, the most costly first; ``now`` is what the clock says.

    ``new`` is its picture where that is not in the log yet.
    """
    picture = new or next((picture for picture in log.all(Picture) if picture.id == form.picture), None)
    found = (
        _clock(log, form, now) if print_id is None else None,
        _black(log, form),
        *_width(log, form),
        _crop(picture, form),
        _amount(log, form, print_id),
        _scale(form),
        _profile(log, form),
        _order(log, form),
        _edition(log, form, print_id),
    )
    return tuple(clash for clash in found if clash is not None)


def _clock(log: Snapshot, form: PrintForm, now: datetime | None) -> Clash | None:
    """A clock that fell back since the print logged last, or was ahead then. What is logged last stays the newest."""
    last = log.newest_print() if form.at is None and now is not None else None
    if last is None or now is None or last.at <= now + CLOCKS_DIFFER:
        return None
    return Clash("at", f"the clock says {_moment(now)}, before the time of the print logged last, {_moment(last.at)}")


def _moment(at: datetime) -> str:
    return f"{at.day} {MONTHS[at.month - 1]} {at.year}, {at:%H:%M}"


def _black(log: Snapshot, form: PrintForm) -> Clash | None:
    printer, paper = log.get(Printer, form.printer), log.get(Paper, form.paper)
    if printer is None or paper is None or not printer.shared_black_slot:
        return None
    loaded = loaded_black(log, printer, form.at)
    if loaded == paper.black:
        return None
    return Clash("paper", f"{plain(paper.name)} needs {paper.black} black, and {loaded} is loaded")


def _width(log: Snapshot, form: PrintForm) -> list[Clash | None]:
    if form.width_mm is None or form.height_mm is None:
        return []
    border = 2 * (form.border_mm or 0)
    short, long = sorted((form.width_mm + border, form.height_mm + border))
    printer, across = log.get(Printer, form.printer), _across_mm(log, form)
    widest = printer.max_width_mm if printer is not None else None
    wide: Clash | None = None
    if widest is not None and short > widest + ROUNDING_MM:
        wide = Clash("size", f"the sheet is {length_text(short)} across, and the printer takes {length_text(widest)}")
    elif across is not None and short > across + ROUNDING_MM:
        thing = "roll" if _from_roll(log, form) else "sheet"
        wide = Clash("size", f"the sheet is {length_text(short)} across, and the {thing} is {length_text(across)} wide")
    return [wide, _longer_than_sheet(log, form, long)]


def _crop(picture: Picture | None, form: PrintForm) -> Clash | None:
    """What a size of another shape than the picture's leaves out of it."""
    if picture is None or not (picture.width_px and picture.height_px and form.width_mm and form.height_mm):
        return None
    size = form.width_mm, form.height_mm
    found = cut_off(size, picture.width_px, picture.height_px)
    return found and Clash("size", f"{size_text(*size)} cuts {share_text(found[0])} off the picture, which is {found[1]}")


def _longer_than_sheet(log: Snapshot, form: PrintForm, long: float) -> Clash | None:
    paper = log.get(Paper, form.paper)
    if paper is None or _from_roll(log, form) or paper.width_mm is None or paper.length_mm is None:
        return None
    longest = max(paper.width_mm, paper.length_mm)
    if long <= longest + ROUNDING_MM:
        return None
    return Clash("size", f"the image with its border is {length_text(long)} long, and the sheet {length_text(longest)}")


def _amount(log: Snapshot, form: PrintForm, print_id: str | None) -> Clash | None:
    use = sheet_use(log, form, print_id)
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


def _profile(log: Snapshot, form: PrintForm) -> Clash | None:
    paper, profile = log.get(Paper, form.paper), form.settings.get("profile")
    if paper is None or not profile:
        return None
    usual = paper.profile or log.usual_profiles.get(paper.id)
    if usual is None or usual == profile:
        return None
    return Clash("profile", f"the usual profile on {plain(paper.name)} is {plain(usual)}")


def _order(log: Snapshot, form: PrintForm) -> Clash | None:
    order, paper = log.get(Order, form.order), log.get(Paper, form.paper)
    if order is None or paper is None:
        return None
    wanted = log.get(Paper, order.paper)
    if wanted is not None and wanted.id != paper.id:
        return Clash("order", f"the order {plain(order.title)} asks for {plain(wanted.name)}")
    if order.black is not None and order.black != paper.black:
        return Clash("order", f"the order {plain(order.title)} asks for a paper of {order.black} black")
    return None


def _edition(log: Snapshot, form: PrintForm, print_id: str | None) -> Clash | None:
    if form.picture is None or form.edition_number is None:
        return None
    given = [
        print.number
        for print in log.numbered
        if (print.picture, print.size) == (form.picture, form.edition_size) and print.counts and print.print != print_id
    ]
    if form.edition_number in given:
        return Clash("edition_number", f"number {form.edition_number} of this edition is on another print already")
    return None


def _stock(log: Snapshot, form: PrintForm) -> Stock | None:
    return log.get(Stock, form.stock)


def _across_mm(log: Snapshot, form: PrintForm) -> float | None:
    """The width that the sheet must pass: the roll's, or the short side of a cut sheet."""
    stock, paper = _stock(log, form), log.get(Paper, form.paper)
    if paper is None:
        return None
    if _from_roll(log, form):
        return roll_width_mm(stock, paper) if stock is not None else paper.width_mm
    return min(paper.width_mm, paper.length_mm) if paper.width_mm and paper.length_mm else paper.width_mm


def _from_roll(log: Snapshot, form: PrintForm) -> bool:
    stock, paper = _stock(log, form), log.get(Paper, form.paper)
    if stock is not None and (stock.sheets is not None or stock.length_mm is not None):
        return stock.sheets is None
    return paper is not None and paper.form == "roll"
