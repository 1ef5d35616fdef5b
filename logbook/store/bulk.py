"""Thousands of records at once, as an import brings them: one transaction, one journal entry."""

import sqlite3
from collections import defaultdict
from collections.abc import Callable, Sequence

from logbook.records import RECORDS, Judgement, Print, Record, codec, kind_of
from logbook.store import journal, lines, numbering, sealing, stamps
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
        sealing.seal(connection, entry.entry)
        return entry


def _add_kind(
    connection: sqlite3.Connection,
    entry: int,
    step: int,
    kind: type[Record],
    records: Sequence[Record],
    progress: Progress | None,
) -> int:
    (last,) = connection.execute(f"SELECT coalesce(max(entered), 0) FROM {table(kind)}").fetchone()
    marks = ", ".join("?" * len(columns(kind)))
    statement = f"INSERT INTO {table(kind)} (entered, {quoted(kind)}) VALUES (?, {marks})"
    name, back = kind_of(kind), {id for one, id in stamps.gone(connection) if one == kind_of(kind)}
    if kind is Print:
        records = numbering.number_all(connection, [record for record in records if isinstance(record, Print)])
    for start in range(0, len(records), BATCH):
        batch = records[start : start + BATCH]
        connection.executemany(statement, ([last + start + place, *to_row(one)] for place, one in enumerate(batch, 1)))
        lines_of = [codec.encode(one) for one in batch]
        connection.executemany(
            "INSERT INTO journal_change (entry, step, kind, id, entered, did, after) VALUES (?, ?, ?, ?, ?, 'added', ?)",
            [
                (entry, step + start + place, name, one.id, last + start + place + 1, line)
                for place, (one, line) in enumerate(zip(batch, lines_of, strict=True))
            ],
        )
        stamps.note(connection, [(name, one.id, None, line) for one, line in zip(batch, lines_of, strict=True) if one.id in back])
        if progress is not None:
            progress(len(batch))
    return step + len(records)
