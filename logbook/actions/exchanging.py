"""Exchanging the black: which one goes and which one comes is known from what is loaded."""

from collections.abc import Mapping
from datetime import datetime, timedelta

import msgspec

from logbook.actions import levels
from logbook.actions.meant import printer_of
from logbook.actions.writing import at_once, write
from logbook.records import Changeover, Gauge, Print, Printer, new_id
from logbook.records.codec import validated
from logbook.records.fields import BLACK_INK, Black, other_black
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.snapshot import take
from logbook.snapshot.clock import now
from logbook.snapshot.printer import cartridge_in, loaded_black, readings_of, same_way_twice
from logbook.store import Store, reading
from logbook.store.journal import Entry

APART = timedelta(seconds=1)  # keeps both gauge rounds on their own side of the changeover, however short it was


class Exchange(msgspec.Struct, frozen=True, kw_only=True):
    """What is known before a changeover: its direction, and the inks of both rows of levels in their order."""

    printer: Printer
    from_black: Black
    to_black: Black
    inks_before: tuple[str, ...]
    inks_after: tuple[str, ...]


def exchange_ahead(store: Store, printer: str, at: datetime | None = None) -> Exchange:
    """The changeover that would be logged for ``printer``; ``Refused`` where both blacks have a slot of their own."""
    known = printer_of(store, printer)
    if not known.shared_black_slot:
        raise Refused("printer", f"{plain(known.name)} holds both blacks at once, so there is nothing to exchange")
    log = take(store)
    loaded = loaded_black(log, known, at)
    return Exchange(
        printer=known,
        from_black=loaded,
        to_black=other_black(loaded),
        inks_before=levels.inks_shown(log, known, loaded),
        inks_after=levels.inks_shown(log, known, other_black(loaded)),
    )


def exchange(
    store: Store,
    printer: str,
    *,
    goes: Black | None = None,
    at: datetime | None = None,
    ended: datetime | None = None,
    before: Mapping[str, float] | None = None,
    after: Mapping[str, float] | None = None,
    minutes: float | None = None,
    cleanings: int | None = None,
    note: str | None = None,
    sure: bool = True,
) -> Entry:
    """Log a changeover that began at ``at``, else one that ``ended`` then or now, with the levels before and after it.

    Levels are in percent. Refuses where another black than ``goes`` was loaded, and levels that rise over the changeover,
    or against earlier readings, without a new cartridge.
    """
    for read, where in ((before, "before"), (after, "after")):
        levels.check_range(read or {}, where)
    with at_once(store):
        began = at or _began(store, printer, ended or now(), timedelta(minutes=minutes or 0))
        ahead = exchange_ahead(store, printer, began)
        if goes not in (None, ahead.from_black):
            raise Refused("ended", f"{ahead.from_black} was loaded then, not {goes}")
        over = max(ended, began + APART) if ended and not at else began + max(timedelta(minutes=minutes or 0), APART)
        first = {**_out_at(store, ahead, began), **before} if before else {}
        drops = _drops(store, ahead.printer, first, after or {}, began, over)
        if not sure:
            _ask(store, ahead.printer, before or {}, drops, began)
        gauges = [
            _gauge(store, ahead.printer, read, when, where)
            for read, when, where in ((before, began - APART, "before"), (after, over, "after"))
        ]
        changeover = validated(
            Changeover(
                id=new_id(),
                printer=printer,
                at=began,
                from_black=ahead.from_black,
                to_black=ahead.to_black,
                before=gauges[0].id if gauges[0] else None,
                after=gauges[1].id if gauges[1] else None,
                minutes=minutes,
                cleanings=cleanings,
                note=note,
            )
        )
        said = f"{_said(ahead, drops)}{same_way(store, printer, put=changeover)}"
        return write(store, said, save=[*filter(None, gauges), changeover])


def same_way(store: Store, printer: str, *, put: Changeover | None = None, gone: Changeover | None = None) -> str:
    """Said where two changeovers in a row go the same way once one is ``put``, or is ``gone``, that did not before."""
    changes = [one for one in reading.every(store, Changeover) if one.printer == printer]
    left = [one for one in changes if one.id not in {other.id for other in (put, gone) if other is not None}]
    then = sorted([*left, *([put] if put is not None else [])], key=lambda one: one.at)
    before = same_way_twice(changes)
    new = next((one for one, two in same_way_twice(then) if (one, two) not in before), None)
    return "" if new is None else f"; now two in a row go {new.from_black} to {new.to_black}"


def _began(store: Store, printer: str, ended: datetime, took: timedelta) -> datetime:
    """When a changeover that ended then began: so long before, but after whatever was logged last before its end."""
    last = (
        reading.latest(store, Print, printer),
        reading.latest(store, Gauge, printer),
        reading.latest(store, Changeover, printer),
    )
    known = [one.at + 2 * APART for one in last if one is not None and one.at < ended]
    return min(ended, max([ended - took, *known]))


def _gauge(store: Store, printer: Printer, read: Mapping[str, float] | None, at: datetime, where: str) -> Gauge | None:
    if not read:
        return None
    levels.check_levels(store, printer, read, at, where)
    return validated(Gauge(id=new_id(), printer=printer.id, at=at, levels=dict(read)))


def _out_at(store: Store, ahead: Exchange, began: datetime) -> dict[str, float]:
    """The last level of the black that comes, which a display that tells only the loaded one doesn't show before."""
    log, ink = take(store), BLACK_INK[ahead.to_black]
    cartridge = cartridge_in(log, ahead.printer.id, ink, began)
    read = [level for at, level in readings_of(log, ahead.printer.id, ink, cartridge) if at <= began]
    if read:
        return {ink: read[-1]}
    return {ink: cartridge.start_percent} if cartridge is not None else {}


def _drops(
    store: Store, printer: Printer, before: Mapping[str, float], after: Mapping[str, float], began: datetime, over: datetime
) -> dict[str, float]:
    """How far each level fell, in percent, of the inks whose cartridge stayed in; ``Refused`` where one rose."""
    log = take(store)
    same = [
        ink
        for ink in before
        if ink in after and cartridge_in(log, printer.id, ink, began) == cartridge_in(log, printer.id, ink, over)
    ]
    step = printer.gauge_step_percent
    risen = [levels.rise_text(ink, before[ink], after[ink]) for ink in same if levels.is_rise(before[ink], after[ink], step)]
    if risen:
        raise levels.refused_rise(risen, "after")
    return {ink: before[ink] - after[ink] for ink in same}


def _ask(store: Store, printer: Printer, before: Mapping[str, float], drops: Mapping[str, float], began: datetime) -> None:
    """``Refused`` with a question where a level fell further than anything takes; the form asks it once."""
    said = levels.unlikely_fall(take(store), printer, before, began)
    if said:
        raise Refused("before", levels.asked(said))
    volumes = {ink.ink: ink.nominal_ml for ink in printer.inks}
    most = max(drops, key=lambda ink: drops[ink] * volumes[ink], default=None)
    if most is not None and drops[most] * volumes[most] / 100 > levels.MOST_PER_FLUSH:
        fell = levels.fall_text(most, before[most], before[most] - drops[most], volumes[most])
        raise Refused("after", levels.asked(fell))


def _said(ahead: Exchange, drops: Mapping[str, float]) -> str:
    said = f"{ahead.from_black.capitalize()} exchanged for {ahead.to_black}"
    if not drops:
        return said
    volumes = {ink.ink: ink.nominal_ml for ink in ahead.printer.inks}
    drawn = sum(drop / 100 * volumes[ink] for ink, drop in drops.items() if ink in volumes)
    return f"{said}; {drawn:.0f} ml drawn, by the gauge"
