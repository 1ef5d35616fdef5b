"""The single steps of a journal entry: a record put in, changed, taken out or restored, within a transaction of the caller's."""

import sqlite3
from collections.abc import Iterable

import msgspec

from logbook.records import KINDS, Judgement, Print, Record, codec, kind_of
from logbook.records.numbering import as_integer, as_written
from logbook.store import lines, numbering
from logbook.store.refusals import StoreRefused
from logbook.store.rows import columns, from_row, quoted, table, to_row

# (kind, id, entered, did, before, after)
Step = tuple[str, str, int, str, str | None, str | None]

MANY = 200  # prints from which their lines are written in one statement


def restore(connection: sqlite3.Connection, kind: str, id: str, entered: int, line: str | None) -> None:
    if line is None:
        connection.execute(f"DELETE FROM {table(KINDS[kind])} WHERE id = ?", [id])
        return
    record = codec.decode(line)
    record = numbered(connection, record)
    if find(connection, KINDS[kind], id) is None:
        insert(connection, record, entered)
    else:
        update(connection, record)


def find(connection: sqlite3.Connection, kind: type[Record], id: str) -> tuple[int, Record] | None:
    row = connection.execute(f"SELECT entered, {quoted(kind)} FROM {table(kind)} WHERE id = ?", [id]).fetchone()
    return None if row is None else (row[0], from_row(kind, row[1:]))


def put(connection: sqlite3.Connection, record: Record) -> Step | None:
    kind = kind_of(record)
    found = find(connection, type(record), record.id)
    record = numbered(connection, record)
    if found is None:
        return kind, record.id, insert(connection, record), "added", None, codec.encode(record)
    entered, before = found
    if before == record:
        return None
    update(connection, record)
    return kind, record.id, entered, "edited", codec.encode(before), codec.encode(record)


def take(connection: sqlite3.Connection, kind: str, id: str) -> Step:
    found = find(connection, KINDS[kind], id)
    if found is None:
        raise StoreRefused(f"there is no {kind} {id!r} to delete")
    entered, before = found
    connection.execute(f"DELETE FROM {table(KINDS[kind])} WHERE id = ?", [id])
    return kind, id, entered, "deleted", codec.encode(before), None


def numbered(connection: sqlite3.Connection, record: Record) -> Record:
    """A print with its running number; other records as they are."""
    if not isinstance(record, Print):
        return record
    return msgspec.structs.replace(record, number=as_written(numbering.number_for(connection, record.id, record.number)))


def insert(connection: sqlite3.Connection, record: Record, entered: int | None = None) -> int:
    names = columns(type(record))
    marks = ", ".join("?" * (len(names) + 1))
    statement = f"INSERT INTO {table(type(record))} (entered, {quoted(type(record))}) VALUES ({marks})"
    cursor = connection.execute(statement, [entered, *to_row(record)])
    if isinstance(record, Print) and record.number is not None:
        connection.execute(
            "INSERT OR IGNORE INTO print_number (print, number) VALUES (?, ?)", [record.id, as_integer(record.number)]
        )
    return int(cursor.lastrowid or 0)


def update(connection: sqlite3.Connection, record: Record) -> None:
    assignments = ", ".join(f'"{name}" = ?' for name in columns(type(record)))
    connection.execute(f"UPDATE {table(type(record))} SET {assignments} WHERE id = ?", [*to_row(record), record.id])


def in_a_circle(connection: sqlite3.Connection, id: str) -> bool:
    statement = """WITH RECURSIVE back (id) AS (
            SELECT attempt_of FROM print WHERE id = ?1 UNION SELECT print.attempt_of FROM back JOIN print ON print.id = back.id)
        SELECT EXISTS (SELECT 1 FROM back WHERE id = ?1)"""
    (found,) = connection.execute(statement, [id]).fetchone()
    return bool(found)


def refresh(connection: sqlite3.Connection, touched: set[str]) -> None:
    """Write the history's lines of the prints touched anew."""
    if len(touched) > MANY:
        lines.refresh_many(connection, touched)
    else:
        lines.refresh(connection, touched)


def refresh_lines(connection: sqlite3.Connection, changes: Iterable[Step]) -> None:
    """Write anew what the history shows of the records that were changed."""
    touched: set[str] = set()
    for kind, id, _, _, before, after in changes:
        touched |= lines.touched(connection, kind, id)
        if kind == "judgement":
            judged = [codec.decode(line) for line in (before, after) if line is not None]
            touched |= {record.print for record in judged if isinstance(record, Judgement)}
    refresh(connection, touched)
