"""The one way to change a logbook: every change is written to the journal beside it, and undo reads the journal.

An entry is what one action did, all or nothing. Undone entries can be redone until something new is done; then they are
passed over, but kept: nothing that was ever saved is lost.
"""

import sqlite3
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any, Literal

import msgspec

from logbook.records import KINDS, Print, Record, codec, kind_of
from logbook.store import lines, references
from logbook.store.opening import Store
from logbook.store.refusals import StoreRefused
from logbook.store.rows import columns, from_row, instant, quoted, table, to_row

State = Literal["done", "undone", "passed", "nothing"]


class Entry(msgspec.Struct, frozen=True):
    """One entry of the journal: when, what was said of it, and whether it stands."""

    entry: int
    at: datetime
    said: str
    state: State


class Change(msgspec.Struct, frozen=True):
    """One record's change within an entry. ``before`` and ``after`` are its JSON lines."""

    entry: int
    kind: str
    id: str
    did: Literal["added", "edited", "deleted"]
    before: str | None
    after: str | None


def write(store: Store, said: str, *, save: Iterable[Record] = (), delete: Iterable[Record] = ()) -> Entry:
    """Add or edit the records of ``save`` and take away those of ``delete``, as one entry.

    Raises ``codec.Refused`` where a record breaks a limit or a reference, ``StoreRefused`` where a deletion would leave
    others pointing at nothing (with their count). Saving what is there already changes nothing and makes no entry.
    """
    saved = [codec.validated(record) for record in save]
    with store.writing() as connection:
        changes = [change for record in saved if (change := _put(connection, record)) is not None]
        for record in delete:
            changes.append(_take(connection, kind_of(record), record.id))
        if not changes:
            return Entry(entry=0, at=datetime.now(UTC), said="Nothing changed", state="nothing")
        _check_references(store, changes)
        _refresh_lines(connection, changes)
        return _append(connection, said, changes)


def undo(store: Store) -> Entry | None:
    """Take back the last entry that stands; None where there is none."""
    return _step(store, "SELECT max(entry) FROM journal_entry WHERE state = 'done'", "undone", forward=False)


def redo(store: Store) -> Entry | None:
    """Bring back the entry undone last; None where there is none."""
    return _step(store, "SELECT min(entry) FROM journal_entry WHERE state = 'undone'", "done", forward=True)


def entries(store: Store, limit: int = 50) -> list[Entry]:
    """The latest entries, newest first."""
    rows = store.connection.execute("SELECT entry, at, said, state FROM journal_entry ORDER BY entry DESC LIMIT ?", [limit])
    return [_entry(row) for row in rows]


def position(store: Store) -> tuple[int, int]:
    """A pair that differs after every change: the number of entries, and how many of them stand."""
    row = store.connection.execute(
        "SELECT coalesce(max(entry), 0), coalesce(max(CASE state WHEN 'done' THEN entry END), 0) FROM journal_entry"
    ).fetchone()
    return int(row[0]), int(row[1])


def changes_of(store: Store, record: Record) -> list[Change]:
    """Every change of a record, oldest first."""
    statement = "SELECT entry, kind, id, did, before, after FROM journal_change WHERE kind = ? AND id = ? ORDER BY entry, step"
    return [Change(*row) for row in store.connection.execute(statement, [kind_of(record), record.id])]


def begin_entry(connection: sqlite3.Connection, said: str) -> Entry:
    """A new entry at the end of the journal; what was undone can no longer be redone."""
    connection.execute("UPDATE journal_entry SET state = 'passed' WHERE state = 'undone'")
    now = datetime.now(UTC)
    cursor = connection.execute(
        "INSERT INTO journal_entry (at, instant, said, state) VALUES (?, ?, ?, 'done')", [now.isoformat(), instant(now), said]
    )
    return Entry(entry=int(cursor.lastrowid or 0), at=now, said=said, state="done")


def _entry(row: Any) -> Entry:
    return Entry(entry=row[0], at=datetime.fromisoformat(row[1]), said=row[2], state=row[3])


# (kind, id, entered, did, before, after)
_Step = tuple[str, str, int, str, str | None, str | None]


def _append(connection: sqlite3.Connection, said: str, changes: list[_Step]) -> Entry:
    entry = begin_entry(connection, said)
    connection.executemany(
        "INSERT INTO journal_change (entry, step, kind, id, entered, did, before, after) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        [(entry.entry, step, *change) for step, change in enumerate(changes)],
    )
    return entry


def _step(store: Store, which: str, state: State, *, forward: bool) -> Entry | None:
    with store.writing() as connection:
        (number,) = connection.execute(which).fetchone()
        if number is None:
            return None
        order = "ASC" if forward else "DESC"
        fields = "step, kind, id, entered, did, before, after"
        statement = f"SELECT {fields} FROM journal_change WHERE entry = ? ORDER BY step {order}"
        steps = connection.execute(statement, [number]).fetchall()
        touched: set[str] = set()
        for step, kind, id, entered, did, before, after in steps:
            touched |= lines.touched(connection, kind, id)
            if forward:
                _restore(connection, kind, id, entered, after)
            else:
                if did == "added":
                    _keep_after(connection, number, step, kind, id)
                _restore(connection, kind, id, entered, before)
            touched |= lines.touched(connection, kind, id)
        _refresh(connection, touched)
        connection.execute("UPDATE journal_entry SET state = ? WHERE entry = ?", [state, number])
        return _entry(connection.execute("SELECT entry, at, said, state FROM journal_entry WHERE entry = ?", [number]).fetchone())


def _keep_after(connection: sqlite3.Connection, entry: int, step: int, kind: str, id: str) -> None:
    found = _record(connection, KINDS[kind], id)
    if found is not None:
        connection.execute(
            "UPDATE journal_change SET after = ? WHERE entry = ? AND step = ?", [codec.encode(found[1]), entry, step]
        )


def _restore(connection: sqlite3.Connection, kind: str, id: str, entered: int, line: str | None) -> None:
    if line is None:
        connection.execute(f"DELETE FROM {table(KINDS[kind])} WHERE id = ?", [id])
        return
    record = codec.decode(line)
    if _record(connection, KINDS[kind], id) is None:
        _insert(connection, record, entered)
    else:
        _update(connection, record)


def _record(connection: sqlite3.Connection, kind: type[Record], id: str) -> tuple[int, Record] | None:
    row = connection.execute(f"SELECT entered, {quoted(kind)} FROM {table(kind)} WHERE id = ?", [id]).fetchone()
    return None if row is None else (row[0], from_row(kind, row[1:]))


def _put(connection: sqlite3.Connection, record: Record) -> _Step | None:
    kind = kind_of(record)
    found = _record(connection, type(record), record.id)
    if found is None:
        return kind, record.id, _insert(connection, record), "added", None, None
    entered, before = found
    if before == record:
        return None
    _update(connection, record)
    return kind, record.id, entered, "edited", codec.encode(before), codec.encode(record)


def _take(connection: sqlite3.Connection, kind: str, id: str) -> _Step:
    found = _record(connection, KINDS[kind], id)
    if found is None:
        raise StoreRefused(f"there is no {kind} {id!r} to delete")
    entered, before = found
    connection.execute(f"DELETE FROM {table(KINDS[kind])} WHERE id = ?", [id])
    return kind, id, entered, "deleted", codec.encode(before), None


def _insert(connection: sqlite3.Connection, record: Record, entered: int | None = None) -> int:
    names = columns(type(record))
    marks = ", ".join("?" * (len(names) + 1))
    statement = f"INSERT INTO {table(type(record))} (entered, {quoted(type(record))}) VALUES ({marks})"
    cursor = connection.execute(statement, [entered, *to_row(record)])
    if isinstance(record, Print):
        connection.execute("INSERT OR IGNORE INTO print_number (print) VALUES (?)", [record.id])
    return int(cursor.lastrowid or 0)


def _update(connection: sqlite3.Connection, record: Record) -> None:
    assignments = ", ".join(f'"{name}" = ?' for name in columns(type(record)))
    connection.execute(f"UPDATE {table(type(record))} SET {assignments} WHERE id = ?", [*to_row(record), record.id])


def _check_references(store: Store, changes: list[_Step]) -> None:
    for kind, id, _, did, before, _ in changes:
        if did == "deleted":
            assert before is not None
            counts = references.users(store, codec.decode(before))
            if counts:
                raise StoreRefused(f"this {kind} is used by {references.users_in_words(counts)}; it was not deleted")
        else:
            found = _record(store.connection, KINDS[kind], id)
            faults = references.missing(store, found[1]) if found else []
            if isinstance(found and found[1], Print) and _in_a_circle(store.connection, id):
                faults.append("attempt_of: the attempts would go in a circle")
            if faults:
                raise codec.Refused(faults)


def _in_a_circle(connection: sqlite3.Connection, id: str) -> bool:
    statement = """WITH RECURSIVE back (id) AS (
            SELECT attempt_of FROM print WHERE id = ?1 UNION SELECT print.attempt_of FROM back JOIN print ON print.id = back.id)
        SELECT EXISTS (SELECT 1 FROM back WHERE id = ?1)"""
    (found,) = connection.execute(statement, [id]).fetchone()
    return bool(found)


def _refresh_lines(connection: sqlite3.Connection, changes: list[_Step]) -> None:
    touched: set[str] = set()
    for kind, id, _, _, before, after in changes:
        touched |= lines.touched(connection, kind, id)
        if kind == "judgement":
            touched |= {codec.decode(line).print for line in (before, after) if line is not None}  # type: ignore[attr-defined]
    _refresh(connection, touched)


MANY = 200


def _refresh(connection: sqlite3.Connection, touched: set[str]) -> None:
    if len(touched) > MANY:
        lines.refresh_many(connection, touched)
    else:
        lines.refresh(connection, touched)
