"""Records from the file, one or all of a kind."""

from collections.abc import Iterator
from datetime import date
from typing import TypeVar

from logbook.records import Print, Record
from logbook.store.opening import Store
from logbook.store.rows import columns, from_row, quoted, table, time_field

R = TypeVar("R", bound=Record)


def get(store: Store, kind: type[R], id: str) -> R | None:
    """The record of that id, or None."""
    row = store.connection.execute(f"SELECT {quoted(kind)} FROM {table(kind)} WHERE id = ?", [id]).fetchone()
    return None if row is None else from_row(kind, row)


def every(store: Store, kind: type[R]) -> list[R]:
    """All records of a kind: in time order where it has a time, else in order of entry."""
    order = "instant, entered" if time_field(kind) else "entered"
    return list(_rows(store, kind, f"ORDER BY {order}"))


def in_order_of_entry(store: Store, kind: type[R]) -> Iterator[R]:
    """All records of a kind as they were entered, one at a time."""
    yield from _rows(store, kind, "ORDER BY entered")


def in_order_of_export(store: Store, kind: type[R]) -> Iterator[R]:
    """All records of a kind in an order that does not depend on who entered them first: by number, time or name, then by id."""
    known = ("number", "instant", "name", "title", "id")
    first = next(name for name in known if name in columns(kind))
    yield from _rows(store, kind, f'ORDER BY "{first}", id')


def of_day(store: Store, kind: type[R], day: date) -> list[R]:
    """The records of a kind whose time, or day on which it was taken, bears that date."""
    order = "instant, entered" if time_field(kind) else "entered"
    return list(_rows(store, kind, f'WHERE substr("{time_field(kind) or "taken"}", 1, 10) = ? ORDER BY {order}', [str(day)]))


def latest(store: Store, kind: type[R], printer: str | None = None) -> R | None:
    """The last record of a kind that has a time (of one printer, where given), or None."""
    where, values = ("WHERE printer = ?", [printer]) if printer is not None else ("", [])
    return next(_rows(store, kind, f"{where} ORDER BY instant DESC, entered DESC LIMIT 1", values), None)


def where(store: Store, kind: type[R], field: str, value: str) -> list[R]:
    """The records of a kind whose ``field`` is ``value``, in time order where it has a time."""
    if field not in columns(kind):
        raise KeyError(field)
    order = "instant, entered" if time_field(kind) else "entered"
    return list(_rows(store, kind, f'WHERE "{field}" = ? ORDER BY {order}', [value]))


def count(store: Store, kind: type[Record]) -> int:
    """How many records of a kind there are."""
    (number,) = store.connection.execute(f"SELECT count(*) FROM {table(kind)}").fetchone()
    return int(number)


def ids(store: Store, kind: type[Record]) -> set[str]:
    """The ids of a kind."""
    return {id for (id,) in store.connection.execute(f"SELECT id FROM {table(kind)}")}


def number_of(store: Store, print_id: str) -> int | None:
    """The running number pencilled on the back of a print, or None where there is no such print."""
    row = store.connection.execute("SELECT number FROM print_number WHERE print = ?", [print_id]).fetchone()
    return None if row is None else int(row[0])


def numbers(store: Store) -> dict[str, int]:
    """The running number of every print, by id."""
    return dict(store.connection.execute("SELECT print, number FROM print_number"))


def ids_with_number(store: Store, number: int) -> list[str]:
    """The ids of the prints that bear the number: one, unless logbooks were begun apart and merged."""
    statement = "SELECT n.print FROM print_number AS n JOIN print AS p ON p.id = n.print WHERE n.number = ? ORDER BY n.print"
    rows = store.connection.execute(statement, [number])
    return [id for (id,) in rows]


def prints_noting(store: Store, words: str) -> list[Print]:
    """The prints whose note, or name in the queue, holds ``words``, the newest first."""
    said = "lower(coalesce(note, '') || ' ' || coalesce(job, ''))"
    return list(_rows(store, Print, f"WHERE instr({said}, lower(?)) > 0 ORDER BY instant DESC, entered DESC", [words]))


def _rows(store: Store, kind: type[R], clause: str, values: list[str] | None = None) -> Iterator[R]:
    for row in store.connection.execute(f"SELECT {quoted(kind)} FROM {table(kind)} {clause}", values or []):
        yield from_row(kind, row)
