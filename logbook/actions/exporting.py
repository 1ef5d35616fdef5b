"""Writing the logbook's records as record files: what an import into an empty logbook takes back."""

from collections.abc import Iterator
from typing import IO

from logbook.records import KINDS, RECORDS, Record
from logbook.records.codec import encode
from logbook.records.files import write_table
from logbook.records.table_form import column_types, to_cells
from logbook.store import Store, reading


def export_lines(store: Store, kind: str | None = None) -> Iterator[str]:
    """One JSON line a record, of one kind or of all, by number, time or name."""
    for record in _kinds(kind):
        yield from map(encode, reading.in_order_of_export(store, record))


def export_table(store: Store, kind: str | None, out: IO[str]) -> None:
    """The same records as CSV under one header: ``kind`` first, then each field, settings and levels as columns."""
    kinds = _kinds(kind)
    rows = [to_cells(record) for one in kinds for record in reading.in_order_of_export(store, one)]
    known = ["kind", *dict.fromkeys(name for one in kinds for name in column_types(one))]
    used = dict.fromkeys(name for row in rows for name in row)
    columns = [name for name in known if name in used or len(kinds) == 1] + sorted(name for name in used if name not in known)
    write_table(rows, columns or ["kind"], out)


def _kinds(kind: str | None) -> tuple[type[Record], ...]:
    return RECORDS if kind is None else (KINDS[kind],)
