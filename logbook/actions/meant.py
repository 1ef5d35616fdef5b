"""What an action is about: the record of an id, or a refusal."""

from logbook.records import Print, Printer
from logbook.records.refusal import Refused
from logbook.store import Store, lately, reading


def print_meant(store: Store, print_id: str | None = None) -> Print:
    """The print of that id, else the newest; ``Refused`` where there is none."""
    found = reading.get(store, Print, print_id) if print_id is not None else lately.newest_print(store)
    if found is None:
        raise Refused("print", "there is no print yet")
    return found


def printer_of(store: Store, printer: str) -> Printer:
    """The printer of that id; ``Refused`` where there is none."""
    known = reading.get(store, Printer, printer)
    if known is None:
        raise Refused("printer", "describe the printer first")
    return known
