"""Records made and written for an action, with every fault said as a refusal."""

from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from typing import TypeVar

from logbook.records import Record, codec
from logbook.records.refusal import Refused
from logbook.store import Store, StoreRefused, journal
from logbook.store.journal import Entry

R = TypeVar("R", bound=Record)


def made(make: Callable[[], R]) -> R:
    """The record that ``make`` makes, within every limit; else ``Refused``, naming the field."""
    try:
        record = make()
        codec.validated(record)
    except codec.Refused as refused:
        raise _refused(refused.faults[0]) from None
    except ValueError as error:
        raise _refused(str(error)) from None
    return record


@contextmanager
def at_once(store: Store) -> Iterator[None]:
    """What is read within is still so when it is written: no other program comes between."""
    try:
        with store.writing():
            yield
    except StoreRefused as refused:
        raise Refused("", str(refused)) from refused


def write(store: Store, said: str, save: Sequence[Record] = (), delete: Sequence[Record] = ()) -> Entry:
    """One undoable entry. ``Refused`` where a record breaks a limit or is still used, or the file can't take it."""
    try:
        return journal.write(store, said, save=save, delete=delete)
    except codec.Refused as refused:
        raise _refused(refused.faults[0]) from None
    except StoreRefused as refused:
        raise Refused("", str(refused)) from refused


def _refused(fault: str) -> Refused:
    where, separator, what = fault.partition(": ")
    return Refused(where, what) if separator and " " not in where else Refused("", fault)
