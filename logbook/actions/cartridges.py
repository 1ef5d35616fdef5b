"""New cartridges: the one that was in goes out in the same entry; and what was left in one that came out."""

from datetime import datetime

import msgspec

from logbook.actions.meant import printer_of
from logbook.actions.writing import at_once, write
from logbook.records import Cartridge, Ink, Printer, new_id
from logbook.records.codec import validated
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.records.wording import ink_text
from logbook.snapshot import take
from logbook.snapshot.clock import now
from logbook.snapshot.printer import cartridge_in
from logbook.store import Store, reading
from logbook.store.journal import Entry

#: Grams a millilitre: water with a little pigment and glycerol, 1.03 to 1.08 (common practice, no source).
INK_DENSITY = 1.05


class CartridgeAhead(msgspec.Struct, frozen=True, kw_only=True):
    """What a new cartridge of an ink would be like: as the last one, else as the printer's own list says."""

    ink: str
    nominal_ml: float
    price: float | None


def cartridge_ahead(store: Store, printer: str, ink: str) -> CartridgeAhead:
    """The volume and price to start from for a new cartridge of ``ink``."""
    listed = _ink_of(printer_of(store, printer), ink)
    earlier = [one for one in reading.where(store, Cartridge, "printer", printer) if one.ink == ink]
    if earlier:
        last = earlier[-1]
        return CartridgeAhead(ink=ink, nominal_ml=last.nominal_ml, price=listed.price if last.price is None else last.price)
    return CartridgeAhead(ink=ink, nominal_ml=listed.nominal_ml, price=listed.price)


def install(
    store: Store,
    printer: str,
    ink: str,
    *,
    installed: datetime | None = None,
    nominal_ml: float | None = None,
    price: float | None = None,
    start_percent: float = 100.0,
    lot: str | None = None,
) -> Entry:
    """Log a new cartridge; volume and price are those of the last one where they are not given."""
    with at_once(store):
        ahead = cartridge_ahead(store, printer, ink)
        at = installed or now()
        cartridge = validated(
            Cartridge(
                id=new_id(),
                printer=printer,
                ink=ink,
                installed=at,
                nominal_ml=nominal_ml if nominal_ml is not None else ahead.nominal_ml,
                price=price if price is not None else ahead.price,
                start_percent=start_percent,
                lot=lot,
            )
        )
        out = cartridge_in(take(store), printer, ink, at)
        removed = [validated(msgspec.structs.replace(out, removed=at))] if out is not None else []
        return write(store, _said(cartridge), save=[*removed, cartridge])


def weigh(
    store: Store,
    cartridge: str,
    *,
    end_percent: float | None,
    left_ml: float | None = None,
    full_g: float | None = None,
    empty_g: float | None = None,
) -> Entry:
    """Note what was left in a cartridge when the gauge had fallen to ``end_percent``: measured, or by its weights in grams.

    ``full_g`` is its weight when it went in, or that of another like it. ``Refused`` where that makes no sense.
    """
    with at_once(store):
        known = reading.get(store, Cartridge, cartridge)
        if known is None:
            raise Refused("cartridge", "this cartridge is not there any more")
        if end_percent is None:
            raise Refused("end_percent", "say what the gauge showed when it came out")
        if end_percent >= known.start_percent:
            raise Refused("end_percent", f"it went in at {number_text(known.start_percent)} %: nothing was drawn by then")
        held_ml = known.nominal_ml * known.start_percent / 100
        gave_ml = held_ml - left_ml if left_ml is not None else _lost_g(full_g, empty_g) / INK_DENSITY
        gave = f"{number_text(round(gave_ml))} of {number_text(round(held_ml))} ml"
        if not 0 < gave_ml <= held_ml:
            raise Refused("left_ml" if left_ml is not None else "empty_g", f"it would have given {gave}")
        weighed = msgspec.structs.replace(known, end_percent=end_percent, left_ml=round(held_ml - gave_ml, 1))
        return write(store, f"{ink_text(known.ink).capitalize()} cartridge: it gave {gave}", save=[validated(weighed)])


def _lost_g(full_g: float | None, empty_g: float | None) -> float:
    if full_g is None and empty_g is None:
        raise Refused("left_ml", "measure the ink that is left, or weigh the cartridge and a full one")
    if full_g is None or empty_g is None:
        raise Refused("full_g" if full_g is None else "empty_g", "both weights are wanted: full and emptied")
    if empty_g >= full_g:
        raise Refused("empty_g", "an emptied one weighs less than a full one")
    return full_g - empty_g


def _said(cartridge: Cartridge) -> str:
    part_used = f" at {number_text(cartridge.start_percent)} %" if cartridge.start_percent < 100 else ""
    return f"New {ink_text(cartridge.ink)} cartridge of {number_text(cartridge.nominal_ml)} ml noted{part_used}"


def _ink_of(printer: Printer, ink: str) -> Ink:
    for listed in printer.inks:
        if listed.ink == ink:
            return listed
    raise Refused("ink", f"{plain(printer.name)} has no ink {ink_text(ink)}")
