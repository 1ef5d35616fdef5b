"""What was logged on a day put right: given another time, corrected, or taken out; what hangs on it goes along."""

from datetime import datetime

import msgspec

from logbook.actions import levels, shelf
from logbook.actions.deleting import delete_judgements, delete_print
from logbook.actions.exchanging import same_way
from logbook.actions.meant import printer_of
from logbook.actions.meanwhile import onto_newest
from logbook.actions.orders import judged_order
from logbook.actions.writing import at_once, write
from logbook.records import Cartridge, Changeover, Gauge, Judgement, Print, Record, kind_of
from logbook.records.codec import validated
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import ink_text
from logbook.snapshot import take
from logbook.snapshot.printer import cartridge_in
from logbook.store import Store, reading
from logbook.store.journal import Entry


def put_right(store: Store, known: Record, record: Record, *, insist: bool = False) -> Entry:
    """Save ``record`` in place of ``known``, with what hangs on it, in one entry.

    A cartridge's time is also when the one before it went out; the levels read with a changeover move with it; levels may not
    rise without a new cartridge; an order follows the verdict of its print.
    """
    with at_once(store):
        record = onto_newest(store, known, record, insist=insist)
        newest = reading.get(store, type(known), known.id)
        along: list[Record] = []
        match newest, record:
            case Cartridge(), Cartridge():
                record, along = _cartridge(store, newest, record)
            case Changeover(), Changeover():
                along = _moved_levels(store, newest, record.at)
            case Gauge(), Gauge() if (newest.at, newest.levels) != (record.at, record.levels):
                printer = printer_of(store, record.printer)
                levels.check_levels(store, printer, record.levels, record.at, without=record.id)
            case Judgement(), Judgement() if newest.verdict != record.verdict:
                along = _order(store, record)
        said = f"{_called(record)} put right"
        if isinstance(record, Changeover):
            said += same_way(store, record.printer, put=record)
        return write(store, said, save=[record, *along])


def take_out(store: Store, kind: type[Record], id: str) -> Entry:
    """Take one record out of its day, with what hangs on it; refused, with the count, while others use it."""
    if kind is Print:
        return delete_print(store, id)
    if kind is Judgement:
        seen = reading.get(store, Judgement, id)
        return delete_judgements(store, seen.print if seen is not None else "", [id])
    with at_once(store):
        known = reading.get(store, kind, id)
        if known is None:
            raise Refused("", f"this {kind_of(kind)} is not there any more")
        said = f"{_called(known)} taken out"
        match known:
            case Cartridge():
                before = _went_out(store, known)
                back = [msgspec.structs.replace(before, removed=known.removed)] if before is not None else []
                return write(store, said, save=back, delete=[known])
            case Changeover():
                read = [gauge for name in (known.before, known.after) if name and (gauge := reading.get(store, Gauge, name))]
                said += f"{' with its levels' if read else ''}{same_way(store, known.printer, gone=known)}"
                return write(store, said, delete=[known, *read])
            case Gauge():
                return write(store, said, save=_without(store, id), delete=[known])
        return shelf.remove(store, kind, id)


def _cartridge(store: Store, known: Cartridge, record: Cartridge) -> tuple[Cartridge, list[Record]]:
    """The cartridge, and the one before it, which went out when this one went in."""
    before = _went_out(store, known)
    if record.ink == known.ink and record.printer == known.printer:
        return record, [validated(msgspec.structs.replace(before, removed=record.installed))] if before is not None else []
    along: list[Record] = [msgspec.structs.replace(before, removed=known.removed)] if before is not None else []
    printer = printer_of(store, record.printer)
    if record.ink not in printer.ink_names:
        raise Refused("ink", f"{plain(printer.name)} has no ink {ink_text(record.ink)}")
    out = cartridge_in(take(store), record.printer, record.ink, record.installed)
    if out is None:
        return record, along
    along.append(msgspec.structs.replace(out, removed=record.installed))
    return validated(msgspec.structs.replace(record, removed=out.removed)), along


def _went_out(store: Store, known: Cartridge) -> Cartridge | None:
    """The cartridge of the same ink that went out when this one went in."""
    own = (one for one in reading.where(store, Cartridge, "printer", known.printer) if one.ink == known.ink)
    return next((one for one in own if one.id != known.id and one.removed == known.installed), None)


def _moved_levels(store: Store, known: Changeover, at: datetime) -> list[Record]:
    """The levels read before and after a changeover, as far apart from it as they were."""
    read = [reading.get(store, Gauge, name) for name in (known.before, known.after) if name]
    moved = [msgspec.structs.replace(gauge, at=gauge.at + (at - known.at)) for gauge in read if gauge is not None]
    return list(moved) if at != known.at else []


def _without(store: Store, gauge: str) -> list[Record]:
    """The changeovers with which these levels were read, without them."""
    found: list[Record] = []
    for change in reading.every(store, Changeover):
        gone = {name: None for name in ("before", "after") if getattr(change, name) == gauge}
        found += [msgspec.structs.replace(change, **gone)] if gone else []
    return found


def _order(store: Store, judgement: Judgement) -> list[Record]:
    """The order of the judged print as it is by this verdict, where it is the print's last."""
    seen, judged = reading.where(store, Judgement, "print", judgement.print), reading.get(store, Print, judgement.print)
    last = next((one for one in reversed(seen) if one.verdict is not None or one.id == judgement.id), None)
    if judged is None or last is None or last.id != judgement.id:
        return []
    order = judged_order(store, judged.order, [judged.id], judgement.verdict == "keep", judgement.at.date())
    return [order] if order is not None else []


def _called(record: Record) -> str:
    match record:
        case Cartridge():
            return f"{ink_text(record.ink).capitalize()} cartridge"
        case Gauge():
            return "Gauge round"
    return kind_of(record).capitalize()
