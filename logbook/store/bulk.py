"""Thousands of records at once, as an import brings them: one transaction, one journal entry."""

import sqlite3
from collections import defaultdict
from collections.abc import Callable, Sequence

from logbook.records import RECORDS, Judgement, Print, Record
from logbook.store import journal, lines
from logbook.store.opening import Store
from logbook.store.rows import columns, quoted, table, to_row

BATCH = 2_000

Progress = Callable[[int], None]


def add(store: Store, said: str, records: Sequence[Record], progress: Progress | None = None) -> journal.Entry:
    """Add records that were read and checked already: none is there yet, and every reference leads somewhere.

    ``progress`` is told how many were written since it was last called.
    """
    by_kind: dict[type[Record], list[Record]] = defaultdict(list)
    for record in records:
        by_kind[type(record)].append(record)
    with store.writing() as connection:
        entry = journal.begin_entry(connection, said)
        step = 0
        for kind in RECORDS:
            if by_kind[kind]:
                step = _add_kind(connection, entry.entry, step, kind, by_kind[kind], progress)
        touched = {record.id for record in by_kind[Print]}
        touched |= {record.print for record in by_kind[Judgement] if isinstance(record, Judgement)}
        lines.refresh_many(connection, touched)
        return entry


def _add_kind(
    connection: sqlite3.Connection, entry: int, step: int, kind: type[Record], records: list[Record], progress: Progress | None
) -> int:
    (last,) = connection.execute(f"SELECT coalesce(max(entered), 0) FROM {table(kind)}").fetchone()
    marks = ", ".join("?" * len(columns(kind)))
    statement = f"INSERT INTO {table(kind)} ({quoted(kind)}) VALUES ({marks})"
    for start in range(0, len(records), BATCH):
        batch = records[start : start + BATCH]
        connection.executemany(statement, map(to_row, batch))
        if progress is not None:
            progress(len(batch))
    if kind is Print:
        # A print that was here before and was undone or deleted comes back with its number.
        connection.execute(
            "INSERT INTO print_number (print) SELECT id FROM print WHERE entered > ? "
            "AND NOT EXISTS (SELECT 1 FROM print_number WHERE print = id) ORDER BY entered",
            [last],
        )
    connection.execute(
        "INSERT INTO journal_change (entry, step, kind, id, entered, did) "
        f"SELECT ?, ? + entered - ?, ?, id, entered, 'added' FROM {table(kind)} WHERE entered > ?",
        [entry, step, last, table(kind).strip('"'), last],
    )
    return step + len(records) + 1
