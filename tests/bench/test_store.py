"""Saving a print and importing a hundred thousand records, against bare sqlite3 with the same durability."""

import io
import os
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import UTC, datetime
from itertools import count, islice
from pathlib import Path
from tempfile import TemporaryDirectory

from logbook.actions.importing import import_file
from logbook.records import Print, codec
from logbook.store import journal, migrating, open_store
from tests.bench.many import fill, records
from tests.bench.row import Row, once, paired

TABLES = ("print", "print_number", "print_line", "journal_entry", "journal_change")


@contextmanager
def bare(path: Path) -> Iterator[sqlite3.Connection]:
    """A file of the same shape, opened with nothing but sqlite3, as durable as ours."""
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        yield connection


def a_print(number: int) -> Print:
    return Print(
        id=f"new-{number}", at=datetime(2026, 11, 25, tzinfo=UTC), printer="one", paper="paper-0", picture="picture-0",
        width_mm=400, height_mm=500, settings={"intent": "perceptual", "shadow_lift": 6},
    )  # fmt: skip


def save_row(prints: int = 10_000) -> Row:
    """One print saved, durable, against the very rows it leaves inserted by hand."""
    with TemporaryDirectory() as folder:
        ours_path, bare_path = Path(folder) / "ours.db", Path(folder) / "bare.db"
        fill(ours_path, prints)
        fill(bare_path, prints)
        with open_store(ours_path) as store, bare(bare_path) as connection:
            numbers = count()
            journal.write(store, "Print logged", save=[a_print(next(numbers))])
            rows = {name: _last_row(store.connection, name) for name in TABLES}
            keys = count(10_000_000)

            def insert() -> None:
                connection.execute("BEGIN IMMEDIATE")
                for name, (names, row) in rows.items():
                    connection.execute(
                        f"INSERT INTO {name} ({names}) VALUES ({', '.join('?' * len(row))})",
                        _renewed(name, names, row, next(keys)),
                    )
                connection.execute("COMMIT")

            ours, reference = paired(lambda: journal.write(store, "Print logged", save=[a_print(next(numbers))]), insert, 60)
    return Row(f"saving one print, durable, on {prints:,}", ours, "the same rows by bare sqlite3", reference, limit=2)


def _last_row(connection: sqlite3.Connection, name: str) -> tuple[str, tuple[object, ...]]:
    order = {"journal_entry": "entry", "journal_change": "entry", "print_number": "number"}.get(name, "rowid")
    cursor = connection.execute(f"SELECT * FROM {name} ORDER BY {order} DESC LIMIT 1")
    return ", ".join(f'"{column[0]}"' for column in cursor.description), cursor.fetchone()


def _renewed(name: str, names: str, row: tuple[object, ...], key: int) -> list[object]:
    fresh = {"entered": key, "number": key, "entry": key, "id": f"bare-{key}", "print": f"bare-{key}"}
    return [fresh.get(column.strip('"'), value) for column, value in zip(names.split(", "), row, strict=True)]


def import_row(size: int = 100_000) -> Row:
    """A record file imported, against every row that it leaves (records, numbers, lines, journal) inserted by hand.

    In processor time, as it is one long transaction on either side.
    """
    text = ("\n".join(map(codec.encode, islice(records(size // 2), size))) + "\n").encode()
    with TemporaryDirectory() as folder:
        with open_store(Path(folder) / "ours.db") as store:
            ours = once(lambda: import_file(store, io.BytesIO(text), "records.jsonl"), time.process_time)
            names = [name for (name,) in store.connection.execute(_FILLED)]
            rows = {name: store.connection.execute(f'SELECT * FROM "{name}"').fetchall() for name in names}
        with bare(Path(folder) / "bare.db") as connection:
            for script in sorted(migrating.folder().glob("*.sql")):
                for statement in migrating.statements(script.read_text(encoding="utf-8")):
                    connection.execute(statement)
            reference = once(lambda: _insert(connection, rows), time.process_time)
    return Row(f"importing {size:,} records", ours, "the same rows inserted by bare sqlite3", reference, limit=4)


_FILLED = """SELECT name FROM pragma_table_list WHERE schema = 'main' AND type = 'table'
    AND name NOT LIKE 'sqlite_%' AND name NOT LIKE '\\_%' ESCAPE '\\'"""


def _insert(connection: sqlite3.Connection, rows: dict[str, list[tuple[object, ...]]]) -> None:
    connection.execute("BEGIN IMMEDIATE")
    for name, values in rows.items():
        if values:
            marks = ", ".join("?" * len(values[0]))
            connection.executemany(f'INSERT INTO "{name}" VALUES ({marks})', values)
    connection.execute("INSERT INTO print_words (rowid, words) SELECT entered, words FROM print_line")
    connection.execute("COMMIT")


def test_saving_one_print() -> None:
    row = save_row()
    print(row, round(row.ratio, 2))
    assert row.holds


def test_importing() -> None:
    row = import_row(int(os.environ.get("BENCH_RECORDS", "100000")))
    print(row, round(row.ratio, 2))
    assert row.holds
