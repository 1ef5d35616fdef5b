"""Ink levels from the printer itself: its address, which of its supplies is which ink, and the gauge round they give.

Asking takes seconds and needs no logbook (``logbook.link.ask``); everything here needs the logbook and takes no time.
The address is kept with the printer among the small choices that are never exported: it may hold a password.
"""

from collections.abc import Mapping, Sequence
from datetime import datetime

import msgspec

from logbook.actions import gauge_step, levels
from logbook.actions.meant import printer_of
from logbook.actions.writing import write
from logbook.link.address import Address, AddressRefused, parse_address
from logbook.link.matching import Match, matches_still, propose
from logbook.link.supplies import Supply
from logbook.records import Gauge, Printer, Record, new_id
from logbook.records.codec import validated
from logbook.records.refusal import Refused
from logbook.records.wording import ink_text
from logbook.snapshot import take
from logbook.snapshot.clock import now
from logbook.snapshot.printer import cartridge_in, readings_of
from logbook.store import Store, preferences
from logbook.store.journal import Entry

ADDRESS, MATCHES = "printer_address", "supply_matches"


class Reading(msgspec.Struct, frozen=True, kw_only=True):
    """What a printer said, in the logbook's inks. ``not_reported`` are inks it knows and tells no level of.

    ``sheets_counted`` is how many sheets it says it has made in its life.
    """

    printer: str
    at: datetime
    levels: dict[str, float]
    not_reported: tuple[str, ...] = ()
    waste: tuple[Supply, ...] = ()
    unmatched: tuple[Supply, ...] = ()
    matched_anew: bool = False
    sheets_counted: int | None = None


def keep_address(store: Store, printer: str, text: str) -> Address:
    """Keep the printer's address. ``Refused`` where it is none; what was typed is never repeated."""
    address = typed_address(text)
    _keep(store, printer_of(store, printer).id, address)
    return address


def typed_address(text: str, secret: str | None = None) -> Address:
    """The address typed in a form, with the password or community string typed beside it. ``Refused`` names the field."""
    try:
        address = parse_address(text)
        return address if secret is None else address.with_secret(secret)
    except AddressRefused as refused:
        raise Refused("address", str(refused)) from None


def change_address(store: Store, printer: str, address: Address | None) -> Entry:
    """Keep another address, or forget the one there is; what is said of it is safe to show.

    Where it comes without a secret and the printer is asked as before, the secret that is kept stays.
    """
    known = printer_of(store, printer)
    if address is None:
        forget_address(store, printer)
        return _unjournaled(f"{known.name} is asked no more")
    before = address_of(store, printer)
    if address.secret is None and before is not None and before.asks_the_same(address):
        address = address.with_secret_of(before)
    _keep(store, printer, address)
    return _unjournaled(f"{known.name} is asked at {address}")


def _keep(store: Store, printer: str, address: Address) -> None:
    before = address_of(store, printer)
    if before is not None and before.protocol != address.protocol:
        # The other protocol rounds otherwise: between 61 and 60.857 of the same ink lies no step of the gauge.
        gauge_step.keep_seen(store, printer, {})
    preferences.write(store, f"{ADDRESS}:{printer}", address.whole)


def _unjournaled(said: str) -> Entry:
    """Tells of a choice kept beside the records; undo does not reach it."""
    return Entry(entry=0, at=now(), said=said, state="nothing")


def forget_address(store: Store, printer: str) -> None:
    """Ask this printer no more."""
    preferences.write(store, f"{ADDRESS}:{printer}", None)


def address_of(store: Store, printer: str) -> Address | None:
    """The address that was entered for the printer, if one was."""
    kept = preferences.read(store, f"{ADDRESS}:{printer}")
    try:
        return parse_address(kept) if isinstance(kept, str) else None
    except AddressRefused:
        return None


def kept_matches(store: Store, printer: str) -> tuple[Match, ...]:
    """How the printer's supplies were matched to its inks; empty before the first time."""
    try:
        return msgspec.convert(preferences.read(store, f"{MATCHES}:{printer}", []), tuple[Match, ...])
    except msgspec.ValidationError:
        return ()


def keep_matches(store: Store, printer: str, matches: Sequence[Match]) -> None:
    """Keep which supply is which ink (None: no ink of the logbook). ``Refused`` where two are the same ink."""
    known = printer_of(store, printer)
    inks = [match.ink for match in matches if match.ink is not None]
    strange = next((ink for ink in inks if ink not in known.ink_names), None)
    if strange is not None:
        raise Refused("supplies", f"{known.name} has no ink {ink_text(strange)}")
    twice = next((ink for ink in inks if inks.count(ink) > 1), None)
    if twice is not None:
        raise Refused("supplies", f"two supplies can't both be {ink_text(twice)}")
    kept = [msgspec.to_builtins(msgspec.structs.replace(match, sure=True)) for match in matches]
    preferences.write(store, f"{MATCHES}:{printer}", kept)


def match_supplies(store: Store, printer: str, matches: Sequence[Match]) -> Entry:
    """``keep_matches`` for a form: what is said of it."""
    keep_matches(store, printer, matches)
    inks = sum(match.ink is not None for match in matches)
    return _unjournaled(f"{inks} {'supply' if inks == 1 else 'supplies'} matched to an ink")


def proposed_matches(store: Store, printer: str, supplies: Sequence[Supply]) -> tuple[Match, ...]:
    """What each supply seems to be, for a person to confirm: as kept, else by name, colour and place."""
    return propose(supplies, printer_of(store, printer).ink_names, kept_matches(store, printer))


def in_inks(store: Store, printer: str, supplies: Sequence[Supply], at: datetime | None = None) -> Reading:
    """The printer's supplies as levels of the logbook's inks.

    Supplies whose names say what they are get matched and kept on the way. ``Refused`` (``supplies``) where a person
    must say: at first, or when the printer's list has changed.
    """
    known = printer_of(store, printer)
    matches, anew = kept_matches(store, printer), False
    if not matches or not matches_still(supplies, matches):
        matches, anew = propose(supplies, known.ink_names, matches), True
        _check_sure(known, matches)
        keep_matches(store, printer, matches)
    by_index = {match.index: match.ink for match in matches}
    inks = [(by_index.get(one.index), one) for one in supplies if one.kind == "ink"]
    read = {ink: _percent(known, ink, one) for ink, one in inks if ink is not None}
    return Reading(
        printer=printer,
        at=at or now(),
        levels={ink: level for ink in known.ink_names if (level := read.get(ink)) is not None},
        not_reported=tuple(ink for ink in known.ink_names if ink in read and read[ink] is None),
        waste=tuple(one for one in supplies if one.kind == "waste"),
        unmatched=tuple(one for ink, one in inks if ink is None),
        matched_anew=anew,
        sheets_counted=next((one.sheets for one in supplies if one.sheets is not None), None),
    )


def log_reading(store: Store, reading: Reading, *, only_moved: bool = False) -> Entry | None:
    """Log a reading as a gauge round; None where ``only_moved`` and no level has moved since the last one.

    The printer's count of sheets has moved where it did so since a day before: one such round a day tells enough.

    Refuses a level that rises without a new cartridge, as for levels that are typed. The smallest step seen so far
    becomes the printer's gauge step, in the same entry.
    """
    printer = printer_of(store, reading.printer)
    if not reading.levels:
        raise Refused("levels", "the printer reports no level of any ink")
    steady = steadied(store, printer, reading)
    if only_moved and steady == last_levels(store, printer, reading) and not _counted_on(store, reading):
        return None
    levels.check_levels(store, printer, steady, reading.at)
    gauge = validated(Gauge(id=new_id(), printer=printer.id, at=reading.at, levels=steady, sheets_counted=reading.sheets_counted))
    seen = gauge_step.seen_with(gauge_step.levels_seen(store, printer.id), reading.levels)
    learnt = gauge_step.learnt(printer, seen)
    saved: list[Record] = [gauge] if learnt is None else [gauge, learnt]
    entry = write(store, _said(len(steady), learnt), save=saved)
    gauge_step.keep_seen(store, printer.id, seen)
    return entry


def _counted_on(store: Store, reading: Reading) -> bool:
    rounds = take(store).of_printer(Gauge, reading.printer)
    if reading.sheets_counted is None or not rounds:
        return False
    return rounds[-1].sheets_counted != reading.sheets_counted and rounds[-1].at.date() < reading.at.date()


def for_form(store: Store, printer: str, supplies: Sequence[Supply], at: datetime | None = None) -> Reading:
    """A reading to put into a form, for a person to correct and save there. What it tells of the gauge's step is kept."""
    read = in_inks(store, printer, supplies, at)
    known = printer_of(store, printer)
    seen = gauge_step.seen_with(gauge_step.levels_seen(store, printer), read.levels)
    learnt = gauge_step.learnt(known, seen)
    if learnt is not None:
        write(store, f"{known.name}: the gauge moves in steps of {_number(learnt.gauge_step_percent)} %", save=[learnt])
    gauge_step.keep_seen(store, printer, seen)
    return msgspec.structs.replace(read, levels=steadied(store, known, read))


def steadied(store: Store, printer: Printer, reading: Reading) -> dict[str, float]:
    """The levels, where one that rose by no more than the gauge's own step stays as it was: a gauge may waver by that."""
    before = last_levels(store, printer, reading)
    return {
        ink: before[ink] if ink in before and 0 < level - before[ink] <= printer.gauge_step_percent else level
        for ink, level in reading.levels.items()
    }


def last_levels(store: Store, printer: Printer, reading: Reading) -> dict[str, float]:
    """The last level read of each ink of ``reading``, on the cartridge that is in the printer."""
    log = take(store)
    found = {ink: readings_of(log, printer.id, ink, cartridge_in(log, printer.id, ink, reading.at)) for ink in reading.levels}
    return {ink: readings[-1][1] for ink, readings in found.items() if readings}


def lines_of(reading: Reading) -> list[str]:
    """What was read, a line for each ink and waste tank."""
    read = [f"{ink_text(ink)}: {_number(level)} %" for ink, level in reading.levels.items()]
    read += [f"{ink_text(ink)}: not reported" for ink in reading.not_reported]
    read += [one.shown for one in reading.waste]
    return [*read, *(f"{one.shown}, which is no ink of the logbook" for one in reading.unmatched)]


def as_data(reading: Reading) -> Mapping[str, object]:
    """The reading as plain data, for ``--json``."""
    return {
        "printer": reading.printer,
        "at": reading.at.isoformat(),
        "levels": dict(reading.levels),
        "not_reported": list(reading.not_reported),
        "sheets_counted": reading.sheets_counted,
        "waste": [{"name": one.name, "full_percent": one.percent} for one in reading.waste],
        "unmatched": [{"index": one.index, "name": one.name, "percent": one.percent} for one in reading.unmatched],
    }


def _percent(printer: Printer, ink: str, one: Supply) -> float | None:
    """Percent of a full cartridge, also where the printer counts in millilitres and names no capacity."""
    if one.percent is not None or one.left_ml is None:
        return one.percent
    full_ml = next(known.nominal_ml for known in printer.inks if known.ink == ink)
    return round(100 * one.left_ml / full_ml, 3) if one.left_ml <= full_ml else None


def _check_sure(printer: Printer, matches: Sequence[Match]) -> None:
    open_inks = set(printer.ink_names) - {match.ink for match in matches}
    unsure = [match for match in matches if not (match.sure or (match.ink is None and not open_inks))]
    if not unsure:
        return
    told = "; ".join(f"{match.index} ({match.name or match.colour or 'no name'}){_maybe(match)}" for match in unsure[:12])
    raise Refused("supplies", f"say on Shelf, or with --match INDEX=INK, which ink each of the printer's supplies is: {told}")


def _maybe(match: Match) -> str:
    return "" if match.ink is None else f" may be {ink_text(match.ink)}"


def _said(inks: int, learnt: Printer | None) -> str:
    said = f"Levels of {inks} {'ink' if inks == 1 else 'inks'} read from the printer"
    return said if learnt is None else f"{said}; its gauge moves in steps of {_number(learnt.gauge_step_percent)} %"


def _number(value: float) -> str:
    return f"{value:.1f}".removesuffix(".0") if value >= 1 else f"{value:.3g}"
