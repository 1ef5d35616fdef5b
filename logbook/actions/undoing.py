"""Taking back what was done last, and doing it again; also after a restart."""

from collections.abc import Callable

from logbook.records.refusal import Refused
from logbook.store import Store, StoreRefused, journal
from logbook.store.journal import Entry


def undo(store: Store) -> Entry:
    """Take back the last entry that stands; its ``said`` names what was taken back."""
    return _stepped(store, journal.undo, "There is nothing to undo.")


def redo(store: Store) -> Entry:
    """Do again the entry that was undone last."""
    return _stepped(store, journal.redo, "There is nothing to redo.")


def _stepped(store: Store, step: Callable[[Store], Entry | None], nothing: str) -> Entry:
    try:
        entry = step(store)
    except StoreRefused as refused:
        raise Refused("", str(refused)) from refused
    if entry is None:
        raise Refused("", nothing)
    return entry
