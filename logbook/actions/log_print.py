"""Logging a print. A form starts from the last print on its paper, so that only what differs is typed."""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

import msgspec

from logbook.actions.meanwhile import onto_newest
from logbook.actions.writing import at_once, write
from logbook.records import Judgement, Order, Paper, Picture, Print, Record, Screen, Stock, new_id
from logbook.records.codec import validated
from logbook.records.darkness import THIRDS_PER_STOP
from logbook.records.fields import Purpose
from logbook.records.numbering import as_written
from logbook.records.refusal import Refused
from logbook.records.settings import Setting, Settings
from logbook.records.text import plain
from logbook.records.units import size_text
from logbook.records.wording import print_number
from logbook.snapshot import take
from logbook.snapshot.clock import now
from logbook.snapshot.printer import printer_in_use
from logbook.snapshot.stock import open_stock
from logbook.store import Store, lately, reading
from logbook.store.journal import Entry

NEEDED = ("printer", "paper", "picture", "width_mm", "height_mm")
_WORDS = {"width_mm": "size", "height_mm": "size"}

BRIGHTENING = "brighten_stops"
OF_THE_PAPER = ("profile", "media")
STARTING_SETTINGS: Settings = {
    "colour_managed_by": "application",
    "intent": "relative",
    "black_point_compensation": True,
    "scale_percent": 100.0,
}


class PrintForm(msgspec.Struct, frozen=True, kw_only=True):
    """A print as a form holds it: any field may still be empty."""

    at: datetime | None = None
    printer: str | None = None
    paper: str | None = None
    picture: str | None = None
    width_mm: float | None = None
    height_mm: float | None = None
    border_mm: float | None = None
    stock: str | None = None
    purpose: Purpose = "final"
    attempt_of: str | None = None
    order: str | None = None
    screen: str | None = None
    edition_number: int | None = None
    edition_size: int | None = None
    ink_ml: float | None = None
    note: str | None = None
    settings: Settings = msgspec.field(default_factory=dict)
    rest: dict[str, Any] = msgspec.field(default_factory=dict)
    """Further fields of a print that were given, by name; one more like it does not take them over."""


class Logged(msgspec.Struct, frozen=True):
    """What was logged, and the number to pencil on its back."""

    entry: Entry
    print: Print
    number: int


def starting_form(store: Store, paper: str | None = None) -> PrintForm:
    """A form filled from the last print on ``paper``; without a paper, from the last print of all. After a test
    strip it is a print of the strip's picture.

    On a paper never printed on, the printer's settings are those of the last print, without what belongs to its paper.
    """
    newest = lately.newest_print(store, paper=paper or _last_paper(store))
    if newest is not None and newest.purpose == "strip":
        last = lately.newest_print(store, paper=newest.paper, strips=False) or msgspec.structs.replace(newest, purpose="final")
        return for_picture(store, msgspec.structs.replace(like(store, last), picture=newest.picture))
    if newest is not None:
        return like(store, newest)
    screens = reading.every(store, Screen)
    printer = printer_in_use(take(store))
    papers = [reading.get(store, Paper, paper)] if paper is not None else reading.every(store, Paper)
    known = papers[0] if len(papers) == 1 else None
    newest = lately.newest_print(store)
    form = PrintForm(
        printer=printer.id if printer else None,
        paper=known.id if known else None,
        screen=newest.screen if newest is not None else screens[-1].id if len(screens) == 1 else None,
        settings=_settings_on(known, newest),
    )
    return msgspec.structs.replace(form, stock=stock_for(store, form.paper))


def _last_paper(store: Store) -> str | None:
    newest = lately.newest_print(store)
    return newest.paper if newest is not None else None


def for_picture(store: Store, form: PrintForm, new: Picture | None = None) -> PrintForm:
    """The form with the size, edition and brightening that its picture goes on with on its paper; ``new``: not in the log yet.

    A picture never printed there has no edition yet, and the size of the form laid as the picture is shaped: by its pixels,
    else by its last print on any paper.
    """
    last = lately.newest_print(store, paper=form.paper, picture=form.picture, strips=False) if form.picture else None
    form = _brightened(store, form, last)
    if last is not None:
        same = like(store, last)
        names = ("width_mm", "height_mm", "edition_number", "edition_size")
        return msgspec.structs.replace(form, **{name: getattr(same, name) for name in names})
    size: dict[str, float] = {}
    if form.width_mm and form.height_mm and (shape := _shape(store, form.picture, new)) is not None:
        wide, high = shaped_like((form.width_mm, form.height_mm), *shape)
        size = {"width_mm": wide, "height_mm": high}
    return msgspec.structs.replace(form, edition_number=None, edition_size=None, **size)


def _brightened(store: Store, form: PrintForm, last: Print | None) -> PrintForm:
    """The form with the brightening that the picture's strip asks for, else that of its ``last`` print, else the paper's."""
    strip = lately.newest_print(store, paper=form.paper, picture=form.picture) if form.picture else None
    before = last or lately.newest_print(store, paper=form.paper, strips=False)
    stops = _asked_by(store, strip) if strip is not None else None
    if stops is None and before is not None:
        stops = before.settings.get(BRIGHTENING)
    others = {name: value for name, value in form.settings.items() if name != BRIGHTENING}
    return msgspec.structs.replace(form, settings=others if stops is None else {**others, BRIGHTENING: stops})


def _asked_by(store: Store, strip: Print) -> Setting | None:
    """The brightening at which a strip was seen to match the screen, beyond the one it was printed with; None of other prints."""
    seen = [one.darkness for one in reading.where(store, Judgement, "print", strip.id) if one.darkness is not None]
    own = strip.settings.get(BRIGHTENING, 0)
    if strip.purpose != "strip" or not seen or not isinstance(own, int | float):
        return None
    return round(own - seen[-1] / THIRDS_PER_STOP, 2)


def _shape(store: Store, picture: str | None, new: Picture | None) -> tuple[float, float] | None:
    """Width and height of a picture, in one unit or another."""
    known = new or (reading.get(store, Picture, picture) if picture else None)
    if known is None:
        return None
    if known.width_px and known.height_px:
        return known.width_px, known.height_px
    last = lately.newest_print(store, picture=known.id, strips=False)
    return (last.width_mm, last.height_mm) if last is not None else None


def shaped_like(size_mm: tuple[float, float], width: float, height: float) -> tuple[float, float]:
    """A size with the same long side, of the shape of the picture, in whole millimetres.

    >>> shaped_like((400, 500), 6000, 4000), shaped_like((400, 500), 4000, 5000)
    ((500, 333), (400, 500))
    """
    long = max(size_mm)
    if width >= height:
        return long, round(long * height / width)
    return round(long * width / height), long


def _settings_on(paper: Paper | None, newest: Print | None) -> Settings:
    """The settings to start from on a paper that has no print yet."""
    before = newest.settings if newest is not None else STARTING_SETTINGS
    kept = {name: value for name, value in before.items() if name not in OF_THE_PAPER}
    return {**({"profile": paper.profile} if paper is not None and paper.profile else {}), **kept}


def like(store: Store, known: Print) -> PrintForm:
    """A form for one more print like ``known``: the next number of its edition, its order while that is open."""
    order = reading.get(store, Order, known.order) if known.order is not None else None
    return PrintForm(
        printer=known.printer,
        paper=known.paper,
        picture=known.picture,
        width_mm=known.width_mm,
        height_mm=known.height_mm,
        border_mm=known.border_mm,
        stock=stock_for(store, known.paper, known.stock),
        purpose=known.purpose,
        order=known.order if order is not None and order.closed is None else None,
        screen=known.screen,
        edition_number=_next_in_edition(store, known),
        edition_size=known.edition_size,
        settings=dict(known.settings),
    )


def attempt(store: Store, print_id: str) -> PrintForm:
    """A form for another attempt at a print: the same, to be changed, and pointing at it."""
    known = reading.get(store, Print, print_id)
    if known is None:
        raise Refused("print", "there is no such print")
    same = like(store, known)
    purpose: Purpose = "final" if known.purpose == "strip" else known.purpose
    same = msgspec.structs.replace(same, attempt_of=known.id, edition_number=known.edition_number, purpose=purpose)
    stops = _asked_by(store, known)
    return same if stops is None else msgspec.structs.replace(same, settings={**same.settings, BRIGHTENING: stops})


def form_of(known: Print) -> PrintForm:
    """A logged print as a form, to correct it."""
    fields = {name: value for name, value in msgspec.structs.asdict(known).items() if name != "id"}
    named = {name: fields.pop(name) for name in PrintForm.__struct_fields__ if name in fields}
    return PrintForm(**named, rest=fields)


def log(store: Store, form: PrintForm, *, new: Sequence[Record] = ()) -> Logged:
    """Log the print; ``new`` are records made while typing it (its picture, say), saved in the same entry.

    Refuses one that lacks its printer, paper, picture or size.
    """
    known = as_print(form, new_id())
    with at_once(store):
        number = lately.next_number(store)
        known = msgspec.structs.replace(known, number=as_written(number))
        said = f"{_called(store, known, number, new)} logged"
        return Logged(write(store, said, save=[*new, known]), known, number)


def correct(store: Store, known: Print, form: PrintForm, *, new: Sequence[Record] = (), insist: bool = False) -> Logged:
    """Save a logged print, ``known`` as it was when the form was opened, as the form has it; it keeps its number.

    Raises ``ChangedMeanwhile`` where the same was changed elsewhere, unless the person insists.
    """
    with at_once(store):
        corrected = onto_newest(store, known, as_print(form, known.id), insist=insist)
        number = reading.number_of(store, known.id) or 0
        return Logged(
            write(store, f"{_called(store, corrected, number, new)} changed", save=[*new, corrected]), corrected, number
        )


def as_print(form: PrintForm, print_id: str) -> Print:
    """The print that a form describes, at its time or now."""
    for field in NEEDED:
        if getattr(form, field) is None:
            where = _WORDS.get(field, field)
            raise Refused(where, f"the {where} is still missing")
    fields = msgspec.structs.asdict(form)
    return validated(Print(**{**fields.pop("rest"), **fields, "id": print_id, "at": form.at or now()}))


def stock_for(store: Store, paper: str | None, before: str | None = None) -> str | None:
    """The roll or box a print comes from: the one before while it is open, else the one opened last."""
    if paper is None:
        return None
    stock = reading.get(store, Stock, before) if before is not None else None
    if stock is not None and stock.closed is None and stock.paper == paper:
        return stock.id
    found = open_stock(take(store), paper)
    return found[0].id if found else None


def _next_in_edition(store: Store, known: Print) -> int | None:
    """The number after the highest one given in the edition of that picture; None beyond its size."""
    if known.edition_number is None:
        return None
    given = lately.edition_numbers(store, known.picture, known.edition_size)
    following = max(given, default=0) + 1
    return following if known.edition_size is None or following <= known.edition_size else None


def _called(store: Store, known: Print, number: int, new: Sequence[Record]) -> str:
    picture = next((one for one in new if one.id == known.picture), None) or reading.get(store, Picture, known.picture)
    title = f" {plain(picture.title)}" if isinstance(picture, Picture) else ""
    return f"{print_number(number)}{title}, {size_text(known.width_mm, known.height_mm)}"
