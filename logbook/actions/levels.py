"""Gauge rounds: ink levels as one row of numbers, in the order of the printer's display."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from datetime import datetime

from logbook.actions.meant import printer_of
from logbook.actions.writing import at_once, write
from logbook.records import Changeover, Cleaning, Gauge, Printer, new_id
from logbook.records.fields import BLACK_INK, Black, other_black
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.units import number_text
from logbook.records.wording import date_text, ink_text
from logbook.snapshot import Snapshot, take
from logbook.snapshot.clock import now
from logbook.snapshot.printer import cartridge_in, readings_of
from logbook.store import Store
from logbook.store.journal import Entry

BOTH = frozenset(BLACK_INK.values())
#: ml of one ink that no square metre, changeover or cleaning, and day takes (common practice, no source).
MOST_PER_M2, MOST_PER_FLUSH, MOST_PER_DAY = 8.0, 30.0, 2.0
#: A fall by less is not looked at in a whole file: so much goes in a week of much work.
FAR_PERCENT = 10.0


def inks_shown(log: Snapshot, printer: Printer, loaded: Black) -> tuple[str, ...]:
    """The inks that the printer's display shows while ``loaded`` is in, in its order.

    Of two blacks that share a slot the one that is out is hidden once rounds were read and none of them tells both.
    """
    read = log.of_printer(Gauge, printer.id)
    if not printer.shared_black_slot or not read or any(set(gauge.levels) >= BOTH for gauge in read):
        return printer.ink_names
    return tuple(ink for ink in printer.ink_names if ink != BLACK_INK[other_black(loaded)])


def read_levels(
    store: Store,
    printer: str,
    levels: Mapping[str, float],
    at: datetime | None = None,
    *,
    sheets_counted: int | None = None,
    sure: bool = True,
) -> Entry:
    """Log a gauge round, with the printer's own count of sheets where it told one.

    Refuses a level that rises without a new cartridge, and one of an ink the printer lacks. Unless one is ``sure``, it also
    refuses a fall that nothing in the log comes near to.
    """
    gauge = Gauge(id=new_id(), printer=printer, at=at or now(), levels=dict(levels), sheets_counted=sheets_counted)
    with at_once(store):
        known = printer_of(store, printer)
        check_levels(store, known, gauge.levels, gauge.at)
        if not sure and (said := unlikely_fall(take(store), known, gauge.levels, gauge.at)):
            raise Refused("levels", asked(said))
        return write(store, f"Levels of {len(gauge.levels)} inks noted", save=[gauge])


def unlikely_falls(log: Snapshot, known: Collection[str]) -> Iterator[str]:
    """What is to be looked at in the rounds that are not among the ``known`` ids, a line each."""
    for printer in log.all(Printer):
        last: dict[str, float] = {}
        for gauge in log.of_printer(Gauge, printer.id):
            far = any(last.get(ink, level) - level > FAR_PERCENT for ink, level in gauge.levels.items())
            last.update(gauge.levels)
            if far and gauge.id not in known and (said := unlikely_fall(log, printer, gauge.levels, gauge.at, gauge.id)):
                yield f"{date_text(gauge.at.date())}: {said}"


def unlikely_fall(
    log: Snapshot, printer: Printer, levels: Mapping[str, float], at: datetime, without: str | None = None
) -> str | None:
    """The level that fell furthest beyond what was printed, exchanged and cleaned since the reading before; None without one."""
    volumes = {ink.ink: ink.nominal_ml for ink in printer.inks}
    beyond = {}
    for ink, level in levels.items():
        cartridge = cartridge_in(log, printer.id, ink, at)
        earlier = [one for one in readings_of(log, printer.id, ink, cartridge, without=without) if one[0] <= at]
        if not earlier:
            continue
        since, before = earlier[-1]
        volume = cartridge.nominal_ml if cartridge else volumes[ink]
        fell_ml = (before - level) * volume / 100
        if fell_ml > _most_ml(log, printer, since, at) + 2 * printer.gauge_step_percent * volume / 100:
            beyond[ink] = fell_ml, fall_text(ink, before, level, volume)
    return max(beyond.values())[1] if beyond else None


def asked(said: str) -> str:
    """What is asked before such a fall is saved."""
    return f"{said}. If it is right save once more, else correct it"


def fall_text(ink: str, before: float, after: float, volume_ml: float) -> str:
    """A fall that nothing in the log comes near to.

    >>> fall_text("yellow", 81, 18, 350)
    'yellow fell from 81 to 18 %, 220 ml: far more than was logged since'
    """
    fell = f"{ink_text(ink)} fell from {number_text(before)} to {number_text(after)} %"
    much = (before - after) * volume_ml / 100
    return f"{fell}, {much:.0f} ml: far more than was logged since"


def _most_ml(log: Snapshot, printer: Printer, since: datetime, at: datetime) -> float:
    """More than one ink gives for what was logged between two times."""
    prints = log.prints(since=since.date(), printer=printer.id)
    area = float(prints.area_m2[(prints.at > since.timestamp()) & (prints.at <= at.timestamp())].sum())
    changes, cleanings = log.of_printer(Changeover, printer.id), log.of_printer(Cleaning, printer.id)
    flushes = sum(since <= one.at <= at for one in changes) + sum(since <= one.at <= at for one in cleanings)
    return MOST_PER_M2 * area + MOST_PER_FLUSH * flushes + MOST_PER_DAY * ((at - since).days + 1)


def check_levels(
    store: Store,
    printer: Printer,
    levels: Mapping[str, float],
    at: datetime,
    where: str = "levels",
    *,
    without: str | None = None,
) -> None:
    """``Refused`` where a level belongs to no ink of the printer, or rises against the readings around ``at``, ``without`` one.

    One step of the gauge is no rise: a level that lies between two numbers is shown now as one, now as the other.
    """
    strange = [ink for ink in levels if ink not in printer.ink_names]
    if strange:
        raise Refused(where, f"{plain(printer.name)} has no ink {ink_text(strange[0])}")
    check_range(levels, where)
    log = take(store)
    risen = [said for ink, level in levels.items() if (said := _risen(log, printer, ink, level, at, without))]
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


def is_rise(before: float, after: float, step_percent: float) -> bool:
    """Whether a level rose by more than a step of the gauge.

    >>> is_rise(84.0, 85.0, 1.0), is_rise(84.0, 86.0, 1.0)
    (False, True)
    """
    return after > before + step_percent * (1.0 + 1e-9)


def rise_text(ink: str, before: float, after: float) -> str:
    """One level that rose.

    >>> rise_text("light_grey", 40, 60)
    'light grey rose from 40 to 60 %'
    """
    return f"{ink_text(ink)} rose from {number_text(before)} to {number_text(after)} %"


def _risen(log: Snapshot, printer: Printer, ink: str, level: float, at: datetime, without: str | None) -> str | None:
    """What rose where ``level`` stands between the readings before and after ``at`` on the same cartridge."""
    cartridge = cartridge_in(log, printer.id, ink, at)
    readings = readings_of(log, printer.id, ink, cartridge, without=without)
    earlier = [percent for when, percent in readings if when <= at]
    later = [percent for when, percent in readings if when > at]
    before = earlier[-1] if earlier else (cartridge.start_percent if cartridge else None)
    step = printer.gauge_step_percent
    if before is not None and is_rise(before, level, step):
        return rise_text(ink, before, level)
    if later and is_rise(level, later[0], step):
        return f"{rise_text(ink, level, later[0])} at its next reading"
    return None
