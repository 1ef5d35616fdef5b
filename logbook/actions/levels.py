"""Gauge rounds: ink levels as one row of numbers, in the order of the printer's display."""

from collections.abc import Mapping, Sequence
from datetime import datetime

from logbook.actions.meant import printer_of
from logbook.actions.writing import at_once, write
from logbook.records import Gauge, Printer, new_id
from logbook.records.fields import BLACK_INK, Black, other_black
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.records.wording import ink_text
from logbook.snapshot import Snapshot, take
from logbook.snapshot.clock import now
from logbook.snapshot.printer import cartridge_in, readings_of
from logbook.store import Store
from logbook.store.journal import Entry


def inks_shown(printer: Printer, loaded: Black) -> tuple[str, ...]:
    """The inks that the printer's display shows while ``loaded`` is in: the other black shares its slot."""
    hidden = BLACK_INK[other_black(loaded)] if printer.shared_black_slot else None
    return tuple(ink for ink in printer.ink_names if ink != hidden)


def read_levels(store: Store, printer: str, levels: Mapping[str, float], at: datetime | None = None) -> Entry:
    """Log a gauge round. Refuses a level that rises without a new cartridge, and one of an ink the printer lacks."""
    gauge = Gauge(id=new_id(), printer=printer, at=at or now(), levels=dict(levels))
    with at_once(store):
        check_levels(store, printer_of(store, printer), gauge.levels, gauge.at)
        return write(store, f"Levels of {len(gauge.levels)} inks noted", save=[gauge])


def check_levels(store: Store, printer: Printer, levels: Mapping[str, float], at: datetime, where: str = "levels") -> None:
    """``Refused`` where a level belongs to no ink of the printer, or rises against the readings around ``at``."""
    strange = [ink for ink in levels if ink not in printer.ink_names]
    if strange:
        raise Refused(where, f"{plain(printer.name)} has no ink {ink_text(strange[0])}")
    check_range(levels, where)
    log = take(store)
    risen = [said for ink, level in levels.items() if (said := _risen(log, printer, ink, level, at))]
    if risen:
        raise refused_rise(risen, where)


def check_range(levels: Mapping[str, float], where: str = "levels") -> None:
    """``Refused`` where a level cannot be one."""
    beyond = [ink for ink, level in levels.items() if not 0 <= level <= 100]
    if beyond:
        raise Refused(where, f"{ink_text(beyond[0])}: a level is 0 to 100 %")


def refused_rise(risen: Sequence[str], where: str) -> Refused:
    """The refusal of levels that rose; ``risen`` says which, from what to what."""
    reason = "a level only rises with a new cartridge; log the cartridge first, or correct the number"
    return Refused(where, f"{', '.join(risen)}: {reason}")


def rise_text(ink: str, before: float, after: float) -> str:
    """One level that rose.

    >>> rise_text("light_grey", 40, 60)
    'light grey rose from 40 to 60 %'
    """
    return f"{ink_text(ink)} rose from {number_text(before)} to {number_text(after)} %"


def _risen(log: Snapshot, printer: Printer, ink: str, level: float, at: datetime) -> str | None:
    """What rose where ``level`` stands between the readings before and after ``at`` on the same cartridge."""
    cartridge = cartridge_in(log, printer.id, ink, at)
    readings = readings_of(log, printer.id, ink, cartridge)
    earlier = [percent for when, percent in readings if when <= at]
    later = [percent for when, percent in readings if when > at]
    before = earlier[-1] if earlier else (cartridge.start_percent if cartridge else None)
    if before is not None and level > before:
        return rise_text(ink, before, level)
    if later and later[0] > level:
        return f"{rise_text(ink, level, later[0])} at its next reading"
    return None
