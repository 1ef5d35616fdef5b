"""Ink levels that a table tells beside its prints: rounds of readings, and a new cartridge where a level rose."""

from collections.abc import Iterable, Mapping

from logbook.actions.adopting.known import derived_id
from logbook.actions.adopting.rows import Fields
from logbook.actions.setup import NOMINAL_ML, starting_inks
from logbook.records import Cartridge, Gauge, Ink, Print, Printer, Record
from logbook.records.text import plain
from logbook.records.wording import counted, ink_text

INK = "ink "


def nominal_inks(rows: Iterable[Fields]) -> tuple[Ink, ...]:
    """The inks of a printer that only a table tells of: a starting list to correct, and those of its columns."""
    named = {name.removeprefix(INK): None for fields in rows for name in fields if name.startswith(INK)}
    usual = starting_inks()
    return (*usual, *(Ink(ink=name, nominal_ml=NOMINAL_ML) for name in named if name not in {one.ink for one in usual}))


def levels_of(
    prints: list[tuple[Print, Fields]], printers: Mapping[str, Printer], there: frozenset[str]
) -> tuple[list[Record], list[str]]:
    """Gauges and cartridges of prints in time order, and what there is to say of them."""
    shares = {name for _, fields in prints for name in fields if name.startswith(INK)}
    shares -= {name for _, fields in prints for name in shares if fields.get(name, 0) > 1}  # 0.45 of a workbook is 45 %
    gauges: list[Gauge] = []
    cartridges: list[Cartridge] = []
    strange: set[str] = set()
    last: dict[tuple[str, str], float] = {}
    for made, fields in prints:
        printer = printers[made.printer]
        levels = {
            name.removeprefix(INK): value * (100 if name in shares else 1)
            for name, value in fields.items()
            if name.startswith(INK)
        }
        strange |= levels.keys() - set(printer.ink_names)
        levels = {ink: level for ink, level in levels.items() if ink in printer.ink_names and 0 <= level <= 100}
        for ink, level in levels.items():
            if level > last.get((printer.id, ink), level) + printer.gauge_step_percent:
                nominal = next(one.nominal_ml for one in printer.inks if one.ink == ink)
                id = derived_id("cartridge", ink, made.id)
                cartridges.append(Cartridge(id=id, printer=printer.id, ink=ink, installed=made.at, nominal_ml=nominal))
            last[printer.id, ink] = level
        if levels and (id := derived_id("gauge", made.id)) not in there:
            gauges.append(Gauge(id=id, printer=printer.id, at=made.at, levels=levels))
    said = [f"{counted(len(cartridges), 'new cartridge')}: a level rose from one row to the next"] if cartridges else []
    return [*cartridges, *gauges], said + [
        f"The printer has no {plain(ink_text(ink))} ink: its levels stay out" for ink in sorted(strange)
    ]
