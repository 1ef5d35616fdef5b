"""Records written for an action, with whatever the file says of it as a refusal."""

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from logbook.records import Record
from logbook.records.refusal import Refused
from logbook.store import Store, StoreRefused, journal
from logbook.store.journal import Entry


@contextmanager
def at_once(store: Store) -> Iterator[None]:
    """Nothing read within changes before it is written: no other program writes in between."""
    try:
        with store.writing():
            yield
    except StoreRefused as refused:
        raise Refused("", str(refused)) from refused


def write(store: Store, said: str, save: Sequence[Record] = (), delete: Sequence[Record] = ()) -> Entry:
    """One undoable entry. ``Refused`` where a record breaks a limit or is still used, or the file can't take it."""
    try:
        return journal.write(store, said, save=save, delete=delete)
    except StoreRefused as refused:
        raise Refused("", str(refused)) from refused
