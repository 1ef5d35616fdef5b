"""The journal replayed: what every record must say by all that was ever done, and a logbook made anew from it."""

import sqlite3
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path
from typing import Any

from logbook.records import KINDS, RECORDS, Print, Record, codec, kind_of
from logbook.records.refusal import Refused
from logbook.store import journal, lines, sealing
from logbook.store import journal_steps as steps
from logbook.store.opening import open_store, read_raw
from logbook.store.refusals import StoreRefused
from logbook.store.rows import from_row, quoted, table
from logbook.store.stamps import Key

_COPIED = ("journal_entry", "journal_change", "stamp", "home", "print_number", "preference", "draft", "thumbnail", "queued_print")
_STANDING = """SELECT c.kind, c.id, c.entered, c.did, c.after FROM journal_change AS c JOIN journal_entry AS e
    ON e.entry = c.entry WHERE e.state = 'done' ORDER BY e.entry, c.step"""


def standing(connection: sqlite3.Connection) -> dict[Key, tuple[int, str]]:
    """What the journal leaves of every record: its place in the order of entry, and its line."""
    found: dict[Key, tuple[int, str]] = {}
    for kind, id, entered, did, after in connection.execute(_STANDING):
        if did == "deleted" or after is None:
            found.pop((kind, id), None)
        else:
            found[kind, id] = (entered, after)
    return found


def differing(connection: sqlite3.Connection) -> Iterator[str]:
    """What the records say otherwise than the journal, a line each."""
    left = standing(connection)
    for kind in RECORDS:
        for row in connection.execute(f"SELECT {quoted(kind)} FROM {table(kind)}"):
            try:
                record = from_row(kind, row)
            except (StoreRefused, Refused):
                continue  # said of the record itself
            entered_and_line = left.pop((kind_of(kind), record.id), None)
            if entered_and_line is None:
                yield f"{kind_of(kind)} {record.id!r} is in no entry of the journal"
            elif not _says(entered_and_line[1], record):
                yield f"{kind_of(kind)} {record.id!r} says something else than the journal"
    for kind_name, id in left:
        yield f"{kind_name} {id!r} is gone, but not by any entry of the journal"


def _says(line: str, record: Record) -> bool:
    if line == codec.encode(record):
        return True
    try:
        told = codec.decode(line)
    except Refused:
        return False
    if isinstance(told, Print) and isinstance(record, Print) and told.number is None:  # written before numbers travelled
        return told == Print(**{**{name: getattr(record, name) for name in Print.__struct_fields__}, "number": None})
    return told == record


def recover(damaged: Path, target: Path) -> list[str]:
    """A new logbook at ``target`` from the journal of a damaged one; gives what differs, a line each.

    What the journal can't say any more is taken from the records as far as they can be read. Raises ``StoreRefused``
    where nothing can be read at all.
    """
    differences: list[str] = []
    try:
        with read_raw(damaged) as source:
            rows = {name: list(_readable(source, name, differences)) for name in _COPIED}
            records = dict(_records(source, differences))
    except sqlite3.DatabaseError as error:
        raise StoreRefused(f"nothing can be read of {damaged}: {error}") from error
    if not rows["journal_entry"] and not records:
        raise StoreRefused(f"nothing can be read of {damaged}")
    with open_store(target) as store, store.writing() as connection:
        connection.execute("DELETE FROM home")
        for name, found in rows.items():
            _fill(connection, name, found)
        told = standing(connection)
        changes: list[steps.Step] = []
        differences += _put_records(connection, told, records, changes)
        sealing.seal_all(connection)
        if changes:
            journal.append(connection, "Recovered what the journal had lost", changes)
        lines.refresh_many(connection, [id for (id,) in connection.execute("SELECT id FROM print").fetchall()])
    return differences


def _readable(source: sqlite3.Connection, name: str, differences: list[str]) -> Iterator[dict[str, Any]]:
    """The rows of a table as far as they can be read: one after the other, and after a hole from the other end."""
    kept: set[str] = set()
    for direction in ("ASC", "DESC"):
        try:
            columns = [row[1] for row in source.execute(f"PRAGMA table_info({name})")]
            keys = [row[1] for row in sorted(source.execute(f"PRAGMA table_info({name})"), key=lambda row: row[5]) if row[5]]
            order = ", ".join(f"{key} {direction}" for key in keys)
            for row in source.execute(f"SELECT * FROM {name} ORDER BY {order}") if columns else ():
                found = dict(zip(columns, row, strict=True))
                key = str([found[key] for key in keys])
                if key not in kept:
                    kept.add(key)
                    yield found
        except sqlite3.DatabaseError as error:
            if direction == "ASC":
                differences.append(f"{name.replace('_', ' ')}: a part can't be read ({error})")
        else:
            return


def _records(source: sqlite3.Connection, differences: list[str]) -> Iterator[tuple[Key, Record]]:
    for kind in RECORDS:
        name = kind_of(kind)
        for row in _readable(source, table(kind), differences):
            with suppress(StoreRefused, Refused, ValueError, TypeError):
                known = tuple(row.get(column) for column in quoted(kind).replace('"', "").split(", "))
                record = from_row(kind, known)
                yield (name, record.id), record


def _fill(connection: sqlite3.Connection, name: str, rows: list[dict[str, Any]]) -> None:
    known = {row[1] for row in connection.execute(f"PRAGMA table_info({name})")}
    for row in rows:
        names = [column for column in row if column in known]
        marks = ", ".join("?" * len(names))
        columns_of = ", ".join(f'"{column}"' for column in names)
        with suppress(sqlite3.IntegrityError):  # a row that is damaged is no row
            connection.execute(f"INSERT OR IGNORE INTO {name} ({columns_of}) VALUES ({marks})", [row[column] for column in names])


def _put_records(
    connection: sqlite3.Connection, told: dict[Key, tuple[int, str]], records: dict[Key, Record], changes: list[steps.Step]
) -> Iterator[str]:  # fmt: skip
    """Enter every record, as the journal says or else as it was found (then a change to be noted); gives what differs."""
    rank = {kind: number for number, kind in enumerate(KINDS)}
    last = sys.maxsize
    for kind, id in sorted(told.keys() | records.keys(), key=lambda key: (rank[key[0]], told.get(key, (last, ""))[0], key)):
        entered, line = told.get((kind, id), (None, None))
        found = records.get((kind, id))
        if line is None or (record := _read(line)) is None:
            if found is None:
                yield f"{kind} {id!r}: neither the journal nor the record can be read"
                continue
            record = found
            yield f"{kind} {id!r}: the journal can't be read, so it is as the record says"
        elif found is None:
            yield f"{kind} {id!r}: the record was gone or could not be read; it is as the journal says"
        elif not _says(line, found):
            yield f"{kind} {id!r}: the record said something else; it is as the journal says"
        record = steps.numbered(connection, record)
        place = steps.insert(connection, record, entered)
        if line is None or _read(line) is None:
            changes.append((kind, id, place, "added", None, codec.encode(record)))


def _read(line: str) -> Record | None:
    with suppress(Refused):
        return codec.decode(line)
    return None
