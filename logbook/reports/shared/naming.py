"""Papers and printers as people name them: by id, by name, or by how the name begins."""

from collections.abc import Sequence
from typing import TypeVar

from logbook.records import Paper, Print, Printer
from logbook.records.numbering import as_integer
from logbook.records.refusal import Refusal
from logbook.records.text import plain
from logbook.snapshot import Snapshot

Named = TypeVar("Named", Paper, Printer)


class Unknown(Refusal):
    """A name that no record bears, or several."""


def paper_id(log: Snapshot, typed: str) -> str:
    """The id of the paper meant. Raises ``Unknown``."""
    return _id(log.all(Paper), typed, "paper")


def printer_id(log: Snapshot, typed: str) -> str:
    """The id of the printer meant. Raises ``Unknown``."""
    return _id(log.all(Printer), typed, "printer")


def print_id(log: Snapshot, typed: str) -> str:
    """The id of the print meant: its id, or the running number pencilled on its back. Raises ``Unknown``."""
    if log.get(Print, typed) is not None:
        return typed
    prints = log.prints()
    try:
        found = prints.id[prints.number == as_integer(typed)]
    except ValueError:
        found = prints.id[:0]
    if len(found) > 1:
        ids = " and ".join(plain(id) for id in found)
        raise Unknown(f"print: logbooks begun apart both gave the number {plain(typed)}; give the id instead: {ids}")
    if not len(found):
        raise Unknown(f"print: there is no print {plain(typed)!r}; give the number on its back, or its id")
    return str(found[0])


def _id(records: Sequence[Named], typed: str, kind: str) -> str:
    wanted = typed.strip().casefold()
    for found in (
        [record for record in records if record.id == typed],
        [record for record in records if record.name.casefold() == wanted],
        [record for record in records if wanted and record.name.casefold().startswith(wanted)],
    ):
        if len(found) == 1:
            return found[0].id
        if found:
            raise Unknown(f"{kind}: {plain(typed)!r} could be {_names(found)}")
    there = f"; there are {_names(records)}" if records else ""
    raise Unknown(f"{kind}: there is no {plain(typed)!r}{there}")


def _names(records: Sequence[Paper] | Sequence[Printer]) -> str:
    return ", ".join(plain(record.name) for record in records[:12])
