"""Levels that rise although no new cartridge went in: found over whole files, out of order or not."""

from collections import defaultdict
from collections.abc import Iterable, Iterator, Mapping
from datetime import datetime

from logbook.actions.levels import is_rise, rise_text
from logbook.records import Cartridge, Gauge
from logbook.records.refusal import Fault


def rises(
    gauges: Iterable[tuple[int | None, Gauge]], cartridges: Iterable[Cartridge], steps: Mapping[str, float]
) -> Iterator[tuple[int, Fault]]:
    """(line, fault) of every reading more than a step above the one before it on the same cartridge.

    ``steps`` are the gauges' steps in percent, by printer. ``gauges`` come with the line they stand on, None for those of
    the logbook. Of two readings the new one is at fault.
    """
    installed: dict[tuple[str, str], list[datetime]] = defaultdict(list)
    for cartridge in cartridges:
        installed[cartridge.printer, cartridge.ink].append(cartridge.installed)
    last: dict[tuple[str, str], tuple[int | None, datetime, float]] = {}
    for line, gauge in sorted(gauges, key=lambda one: one[1].at):
        for ink, level in gauge.levels.items():
            place = gauge.printer, ink
            if place in last:
                before_line, before, before_level = last[place]
                at_fault = line if line is not None else before_line
                renewed = any(before <= at <= gauge.at for at in installed[place])
                if is_rise(before_level, level, steps.get(gauge.printer, 0.0)) and not renewed and at_fault is not None:
                    yield at_fault, Fault(f"levels.{ink}", f"{rise_text(ink, before_level, level)} without a new cartridge")
            last[place] = line, gauge.at, level
