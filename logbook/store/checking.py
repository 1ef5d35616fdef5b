"""Verifying a logbook file: damage is found and named, without changing the file."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path
from tempfile import TemporaryDirectory

from logbook.records import RECORDS, kind_of
from logbook.records.codec import validated
from logbook.records.numbering import padded
from logbook.records.refusal import Refused
from logbook.store import lines, migrating, replaying, sealing
from logbook.store.migrating import Migrations
from logbook.store.opening import APPLICATION_ID, open_store, read_raw
from logbook.store.refusals import StoreRefused
from logbook.store.rows import from_row, instant, quoted, table, time_field

MOST_FAULTS = 50
HEADER = b"SQLite format 3\x00"


def check_file(path: Path, known: Migrations | None = None) -> list[str]:
    """Faults of the file, one line each; empty where it is sound. The file is opened for reading only.

    It is held against what the migrations ``known`` make (this program's own by default).
    """
    if not path.is_file():
        return [f"{path} does not exist"]
    with path.open("rb") as file:
        head = file.read(100)
    if not head.startswith(HEADER):
        return [f"{path} is no logbook: its first bytes are not those of a database"]
    if path.stat().st_size < _size_in(head) and not path.with_name(f"{path.name}-wal").exists():
        return [f"damage: the end of the file is missing ({path.stat().st_size:,} of {_size_in(head):,} bytes are there)"]
    try:
        with read_raw(path) as connection:
            return list(_take(_faults(connection, known or migrating.migrations())))
    except sqlite3.OperationalError as error:
        return [f"the file can't be read: {error}"]
    except (sqlite3.Error, UnicodeDecodeError) as error:  # the second is raised for damaged text within a fault's own words
        return [f"damage: {error}"]


def _size_in(head: bytes) -> int:
    """The size that the header of a database gives it, in bytes (SQLite's file format, 1.3.2 and 1.3.7)."""
    page = int.from_bytes(head[16:18], "big")
    return (65_536 if page == 1 else page) * int.from_bytes(head[28:32], "big")


def is_logbook(path: Path) -> bool:
    """Whether the head of the file is that of a logbook, sound or not."""
    if not path.is_file():
        return False
    with path.open("rb") as file:
        head = file.read(100)
    return head.startswith(HEADER) and head[68:72] == APPLICATION_ID.to_bytes(4, "big")


def _take(faults: Iterator[str]) -> Iterator[str]:
    for number, fault in enumerate(faults):
        if number == MOST_FAULTS:
            yield "there are more faults; the others are not shown"
            return
        yield fault


def _faults(connection: sqlite3.Connection, known: Migrations) -> Iterator[str]:
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    if application != APPLICATION_ID:
        yield "it is a database, but not a logbook"
        return
    damaged = False
    for (fault,) in connection.execute(f"PRAGMA integrity_check({MOST_FAULTS})"):
        if fault != "ok":
            damaged = True
            yield f"damage: {' '.join(fault.replace('*** in database main ***', '').split())}"
    if damaged:
        return
    passed = migrating.applied(connection)
    if known.unknown(connection):
        yield "it was written by a newer program"
        return
    strange = list(_bad_shape(migrating.shape_of(connection), known.up_to(passed).shape()))
    yield from strange
    if strange:  # a view in a table's place would run what somebody else wrote
        return
    for child, _, parent, _ in connection.execute("PRAGMA foreign_key_check"):
        yield f"a {child} refers to a {parent} that is not there"
    if known.pending(connection):
        yield from _faults_once_migrated(connection, known)
        return
    yield from _bad_records(connection)
    yield from _bad_lines(connection)
    for entry in sealing.broken(connection):
        yield f"entry {entry} of the journal does not say what was sealed"
    yield from replaying.differing(connection)


def _bad_shape(found: dict[tuple[str, str], str], made: dict[tuple[str, str], str]) -> Iterator[str]:
    """The tables and what belongs to them must be those that the migrations make, to the letter."""
    for type, name in sorted(made.keys() - found.keys()):
        yield f"the {type} {name!r} is missing"
    for type, name in sorted(found.keys() - made.keys()):
        yield f"the file came with a {type} {name!r}, which no program of ours makes"
    for type, name in sorted(found.keys() & made.keys()):
        if found[type, name] != made[type, name]:
            yield f"the {type} {name!r} is not as the program makes it"


def _faults_once_migrated(connection: sqlite3.Connection, known: Migrations) -> Iterator[str]:
    """A file of an older version is read as this program would have it, in a copy."""
    with TemporaryDirectory() as folder:
        copy = Path(folder) / "migrated.db"
        with closing(sqlite3.connect(copy, isolation_level=None)) as target:
            connection.backup(target)
        try:
            open_store(copy, create=False, known=known).close()
        except StoreRefused as refused:
            yield str(refused)
            return
        with closing(sqlite3.connect(copy, isolation_level=None)) as migrated:
            yield from _faults(migrated, known)


def _bad_records(connection: sqlite3.Connection) -> Iterator[str]:
    for kind in RECORDS:
        for id, *row in connection.execute(f"SELECT id, {quoted(kind)} FROM {table(kind)}"):
            try:
                record = validated(from_row(kind, tuple(row)))
            except StoreRefused as error:
                yield str(error)
                continue
            except Refused as error:
                yield f"{kind_of(kind)} {id!r}: {error}"
                continue
            field = time_field(kind)
            if field is not None and instant(getattr(record, field)) != row[-1]:
                yield f"{kind_of(kind)} {id!r}: it is not sorted by its time"


def _bad_lines(connection: sqlite3.Connection) -> Iterator[str]:
    """The history's list must show every print, and find it."""
    for number in lines.differing(connection):
        yield f"the list of prints and the records of #{padded(number)} disagree"
    for (id,) in connection.execute("SELECT id FROM print WHERE id NOT IN (SELECT print FROM print_number)"):
        yield f"print {id!r} has no number"
    for (number,) in connection.execute("SELECT number FROM print_line WHERE print NOT IN (SELECT id FROM print)"):
        yield f"the history's list shows #{padded(number)}, which is not there"
    with closing(sqlite3.connect("", isolation_level=None)) as copy:  # a temporary file: the check writes, if only in form
        connection.backup(copy)
        try:
            lines.check_index(copy)
        except sqlite3.DatabaseError:
            yield "the history's search does not find what its list says"
