"""The one way to change a logbook: every change is written to the journal beside it, and undo reads the journal.

An entry is what one action did, all or nothing. Undone entries can be redone until something new is done; then they are
passed over, but kept: nothing that was ever saved is lost.
"""

import sqlite3
from collections.abc import Iterable
from datetime import UTC, datetime
from typing import Any, Literal, TypeVar

import msgspec

from logbook.records import KINDS, Print, Record, codec, kind_of
from logbook.records.refusal import Fault, Refused
from logbook.store import journal_steps as steps
from logbook.store import lines, references, sealing, stamps
from logbook.store.opening import Store
from logbook.store.refusals import StoreRefused
from logbook.store.rows import instant

R = TypeVar("R", bound=Record)

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

    Raises ``Refused`` where a record breaks a limit or a reference, ``StoreRefused`` where a deletion would leave
    others pointing at nothing (with their count). Saving what is there already changes nothing and makes no entry.
    """
    saved = [codec.validated(record) for record in save]
    with store.writing() as connection:
        changes = [change for record in saved if (change := steps.put(connection, record)) is not None]
        for record in delete:
            changes.append(steps.take(connection, kind_of(record), record.id))
        if not changes:
            return Entry(entry=0, at=datetime.now(UTC), said="Nothing changed", state="nothing")
        check_references(store, changes)
        steps.refresh_lines(connection, changes)
        return append(connection, said, changes)


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
        "SELECT coalesce((SELECT max(entry) FROM journal_entry), 0),"
        " coalesce((SELECT max(entry) FROM journal_entry WHERE state = 'done'), 0)"
    ).fetchone()
    return int(row[0]), int(row[1])


def changed_since(store: Store, position: tuple[int, int]) -> set[str]:
    """The kinds of which some record may be another than it was at ``position``."""
    statement = """SELECT DISTINCT kind FROM journal_change WHERE entry > (
        SELECT coalesce(max(entry), 0) FROM journal_entry WHERE state = 'done' AND entry <= ?)"""
    return {kind for (kind,) in store.connection.execute(statement, [position[1]])}


def changes_of(store: Store, record: Record) -> list[Change]:
    """Every change of a record, oldest first."""
    statement = "SELECT entry, kind, id, did, before, after FROM journal_change WHERE kind = ? AND id = ? ORDER BY entry, step"
    return [Change(*row) for row in store.connection.execute(statement, [kind_of(record), record.id])]


def earlier(store: Store, kind: type[R]) -> list[R]:
    """The records of a kind as each stood before every change of it, oldest change first."""
    statement = "SELECT before FROM journal_change WHERE kind = ? AND before IS NOT NULL ORDER BY entry, step"
    lines = store.connection.execute(statement, [kind_of(kind)])
    return [record for (line,) in lines if isinstance(record := codec.decode(line), kind)]


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


def append(connection: sqlite3.Connection, said: str, changes: list[steps.Step], *, kept: str | None = None) -> Entry:
    """A new entry of changes made in the same transaction. ``kept`` are stamps that came with them, for undo."""
    entry = begin_entry(connection, said)
    connection.executemany(
        "INSERT INTO journal_change (entry, step, kind, id, entered, did, before, after) VALUES (?, ?, ?, ?, ?, ?, ?, ?)",
        [(entry.entry, step, *change) for step, change in enumerate(changes)],
    )
    sealing.seal(connection, entry.entry)
    if kept is not None:
        connection.execute("UPDATE journal_entry SET stamps = ? WHERE entry = ?", [kept, entry.entry])
    else:
        stamps.note(connection, [(kind, id, before, after) for kind, id, _, _, before, after in changes])
    return entry


def _step(store: Store, which: str, state: State, *, forward: bool) -> Entry | None:
    with store.writing() as connection:
        (number,) = connection.execute(which).fetchone()
        if number is None:
            return None
        order = "ASC" if forward else "DESC"
        fields = "kind, id, entered, before, after"
        statement = f"SELECT {fields} FROM journal_change WHERE entry = ? ORDER BY step {order}"
        rows = connection.execute(statement, [number]).fetchall()
        touched: set[str] = set()
        for kind, id, entered, before, after in rows:
            touched |= lines.touched(connection, kind, id)
            steps.restore(connection, kind, id, entered, after if forward else before)
            touched |= lines.touched(connection, kind, id)
        steps.refresh(connection, touched)
        _stamp_again(connection, number, rows, forward)
        connection.execute("UPDATE journal_entry SET state = ? WHERE entry = ?", [state, number])
        return _entry(connection.execute("SELECT entry, at, said, state FROM journal_entry WHERE entry = ?", [number]).fetchone())


def _stamp_again(connection: sqlite3.Connection, entry: int, rows: list[Any], forward: bool) -> None:
    """A merge that is undone was never seen; anything else that is undone is a change of its own."""
    (kept,) = connection.execute("SELECT stamps FROM journal_entry WHERE entry = ?", [entry]).fetchone()
    if kept is None:
        lines_of = [(kind, id, before, after) if forward else (kind, id, after, before) for kind, id, _, before, after in rows]
        stamps.note(connection, lines_of)
    else:
        stamps.replace(connection, stamps.unpacked(kept, forward=forward))


def check_references(store: Store, changes: list[steps.Step]) -> None:
    """Refuse changes after which something would point at nothing, or attempts would go in a circle."""
    for kind, id, _, did, before, _ in changes:
        if did == "deleted":
            assert before is not None
            counts = references.users(store, codec.decode(before))
            if counts:
                raise StoreRefused(f"this {kind} is used by {references.users_in_words(counts)}; it was not deleted")
        else:
            found = steps.find(store.connection, KINDS[kind], id)
            faults = references.missing(store, found[1]) if found else []
            if isinstance(found and found[1], Print) and steps.in_a_circle(store.connection, id):
                faults.append(Fault("attempt_of", "the attempts would go in a circle"))
            if faults:
                raise Refused(*faults[0], faults[1:])
