"""Ink levels that a table tells beside its prints: rounds of readings, and a new cartridge where a level rose."""

from collections.abc import Iterable, Iterator, Mapping
from datetime import timedelta

from logbook.actions.adopting.known import Known, derived_id
from logbook.actions.adopting.rows import Fields
from logbook.actions.levels import is_rise
from logbook.actions.rising_levels import rises
from logbook.actions.setup import NOMINAL_ML, starting_inks
from logbook.records import Cartridge, Gauge, Ink, Print, Printer, Record
from logbook.records.text import plain
from logbook.records.wording import counted, ink_text

INK = "ink "
BEFORE = timedelta(minutes=1)  # how long before its first reading a new cartridge counts as put in


def nominal_inks(rows: Iterable[Fields]) -> tuple[Ink, ...]:
    """The inks of a printer that only a table tells of: a starting list to correct, and those of its columns."""
    named = {name.removeprefix(INK): None for fields in rows for name in fields if name.startswith(INK)}
    usual = starting_inks()
    return (*usual, *(Ink(ink=name, nominal_ml=NOMINAL_ML) for name in named if name not in {one.ink for one in usual}))


def levels_of(
    prints: list[tuple[Print, Fields]], printers: Mapping[str, Printer], known: Known
) -> tuple[list[Record], list[str]]:
    """Gauges and cartridges of new prints, and what there is to say of them.

    A level that rose by more than the gauge's step is a new cartridge; rounds that rise otherwise stay out.
    """
    shares = {name for _, fields in prints for name in fields if name.startswith(INK)}
    shares -= {name for _, fields in prints for name in shares if fields.get(name, 0) > 1}  # 0.45 of a workbook is 45 %
    strange: set[str] = set()
    gauges: list[Gauge] = []
    for made, fields in prints:
        told = {name.removeprefix(INK): value * (100 if name in shares else 1) for name, value in _levels(fields)}
        inks = printers[made.printer].ink_names
        strange |= told.keys() - set(inks)
        levels = {ink: level for ink, level in told.items() if ink in inks and 0 <= level <= 100}
        if levels:
            gauges.append(Gauge(id=derived_id("gauge", made.id), printer=made.printer, at=made.at, levels=levels))
    cartridges = list(_put_in([*known.gauges, *gauges], {one.id for one in gauges}, printers))
    steps = {one.id: one.gauge_step_percent for one in printers.values()}
    numbered = [*((None, one) for one in known.gauges), *enumerate(gauges)]
    out = {place for place, _ in rises(numbered, [*known.cartridges, *cartridges], steps)}
    said = [f"{counted(len(cartridges), 'new cartridge')}: a level rose from one row to the next"] if cartridges else []
    said += [f"{counted(len(out), 'round')} of levels stay out: they rise without a new cartridge"] if out else []
    said += [f"The printer has no {plain(ink_text(ink))} ink: its levels stay out" for ink in sorted(strange)]
    return [*cartridges, *(one for place, one in enumerate(gauges) if place not in out)], said


def _levels(fields: Fields) -> Iterator[tuple[str, float]]:
    return ((name, value) for name, value in fields.items() if name.startswith(INK))


def _put_in(gauges: list[Gauge], new: set[str], printers: Mapping[str, Printer]) -> Iterator[Cartridge]:
    """A cartridge wherever a new reading is higher than the one before it."""
    last: dict[tuple[str, str], float] = {}
    for gauge in sorted(gauges, key=lambda one: one.at):
        printer = printers[gauge.printer]
        for ink, level in gauge.levels.items():
            if gauge.id in new and is_rise(last.get((printer.id, ink), level), level, printer.gauge_step_percent):
                nominal = next(one.nominal_ml for one in printer.inks if one.ink == ink)
                id = derived_id("cartridge", ink, gauge.id)
                yield Cartridge(id=id, printer=printer.id, ink=ink, installed=gauge.at - BEFORE, nominal_ml=nominal)
            last[printer.id, ink] = level
