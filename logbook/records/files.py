"""Record files: JSON Lines or CSV, read a record at a time with the line each stands on."""

import csv
from collections.abc import Iterable, Iterator, Sequence
from typing import IO, NamedTuple

import msgspec

from logbook.records import KINDS
from logbook.records.codec import decode, from_mapping
from logbook.records.record import Record
from logbook.records.refusal import Fault, Refused
from logbook.records.table_form import to_fields
from logbook.records.text import plain

LONGEST_LINE = 4 * 1024 * 1024  # far beyond any record of 4,000-character texts
SHOWN = 64  # characters of a name that a fault repeats
BOM = b"\xef\xbb\xbf"


class _Named(msgspec.Struct):
    """What can be told of a record whatever else is wrong with it."""

    kind: str
    id: str


class Read(NamedTuple):
    """What stands on a line: a record, or the faults that keep it from being one.

    ``meant`` is the kind and the id of a record with faults, where they can be told: others may refer to it.
    """

    line: int
    record: Record | None
    faults: Sequence[Fault]
    bytes: int
    meant: tuple[str, str] | None = None


def read_lines(stream: IO[bytes]) -> Iterator[Read]:
    """Every record of a JSON Lines file. CRLF, a byte order mark and blank lines are accepted."""
    for number, line, size in _lines(stream):
        if line is None:
            yield Read(number, None, [Fault("line", "is longer than a record can be")], size)
        elif not line.strip():
            yield Read(number, None, [], size)
        else:
            yield _read_line(number, line, size)


def _lines(stream: IO[bytes]) -> Iterator[tuple[int, bytes | None, int]]:
    number = 0
    while line := stream.readline(LONGEST_LINE):
        number += 1
        size = len(line)
        whole = line.endswith(b"\n") or size < LONGEST_LINE
        while not line.endswith(b"\n") and (rest := stream.readline(LONGEST_LINE)):
            size += len(rest)
            line = rest
        yield number, (line.removeprefix(BOM) if number == 1 else line) if whole else None, size


def _read_line(number: int, line: bytes, size: int) -> Read:
    try:
        return Read(number, decode(line.strip()), [], size)
    except Refused as refused:
        return Read(number, None, refused.faults, size, _meant(line))


def _meant(line: bytes) -> tuple[str, str] | None:
    try:
        named = msgspec.json.decode(line, type=_Named)
    except (msgspec.DecodeError, ValueError, RecursionError):
        return None
    return named.kind, named.id


def read_table(stream: IO[bytes], kind: str | None) -> Iterator[Read]:
    """Every record of a CSV file with a header. ``kind`` serves rows without a ``kind`` column of their own."""
    text = _Decoded(stream)
    header: list[str] | None = None
    rows = csv.reader(text, delimiter=text.delimiter(), strict=True)
    while True:
        line, before = rows.line_num + 1, text.bytes
        try:
            row = next(rows, None)
        except (csv.Error, UnicodeDecodeError) as error:
            yield Read(max(line, rows.line_num), None, [Fault("line", f"can't be read as CSV ({_reason(error)})")], 0)
            return
        if row is None:
            return
        if header is None:
            header = [name.strip() for name in row]
            faults = _header_faults(header, kind)
            if faults:
                yield Read(line, None, faults, 0)
                return
        elif any(row):
            yield _read_row(line, header, row, kind, text.bytes - before)


def _reason(error: Exception) -> str:
    return "it is not UTF-8" if isinstance(error, UnicodeDecodeError) else str(error)


class _Decoded:
    """The lines of a byte stream as text, counting the bytes."""

    def __init__(self, stream: IO[bytes]) -> None:
        self.bytes = 0
        self._stream = stream
        self._first = stream.readline(LONGEST_LINE)
        self._begun = False

    def delimiter(self) -> str:
        """Comma, or what a spreadsheet of another language writes instead."""
        head = self._first.decode("utf-8", "replace")
        return next((mark for mark in (",", ";", "\t") if mark in head), ",")

    def __iter__(self) -> "_Decoded":
        return self

    def __next__(self) -> str:
        line = self._stream.readline(LONGEST_LINE) if self._begun else self._first.removeprefix(BOM)
        self._begun = True
        if not line:
            raise StopIteration
        self.bytes += len(line)
        return line.decode("utf-8")


def _header_faults(header: list[str], kind: str | None) -> list[Fault]:
    twice = sorted({name for name in header if name and header.count(name) > 1})
    if twice:
        return [Fault(plain(name)[:SHOWN], "this column stands twice") for name in twice]
    if kind is None and "kind" not in header:
        return [Fault("kind", "there is no such column; name the kind with --kind")]
    return []


def _read_row(line: int, header: list[str], row: list[str], kind: str | None, size: int) -> Read:
    if len(row) > len(header) and any(row[len(header) :]):
        return Read(line, None, [Fault("line", f"has {len(row)} cells under {len(header)} columns")], size)
    cells = {name: cell for name, cell in zip(header, row, strict=False) if name}
    named = cells.get("kind") or kind or ""
    if named not in KINDS:
        return Read(line, None, [Fault("kind", f"'{plain(named)[:SHOWN]}' is none of {', '.join(KINDS)}")], size)
    try:
        return Read(line, from_mapping(to_fields(KINDS[named], cells)), [], size)
    except Refused as refused:
        return Read(line, None, refused.faults, size, (named, cells.get("id", "")))


def write_table(records: Iterable[dict[str, str]], columns: list[str], out: IO[str]) -> None:
    """Cells (of ``table_form.to_cells``) under a header of ``columns``, as CSV."""
    writer = csv.DictWriter(out, columns, restval="", lineterminator="\n")
    writer.writeheader()
    writer.writerows(records)
