"""JSON lines: a record comes back equal from a line and from a row, or every fault is one plain line."""

import io

import atheris

with atheris.instrument_imports(include=["logbook"]):
    from logbook.records import codec, files
    from logbook.records.text import plain
    from logbook.store.rows import from_row, to_row

from tests.bench import many
from tests.bench.fuzzing.run import fuzz

LONGEST = 4_096


def read(data: bytes) -> None:
    """One file of record lines."""
    for found in files.read_lines(io.BytesIO(data)):
        assert all(str(fault) == plain(str(fault)) for fault in found.faults), found.faults
        if found.record is not None:
            assert not found.faults
            line = codec.encode(found.record)
            assert codec.decode(line) == found.record, line
            assert "\n" not in line
            assert from_row(type(found.record), tuple(to_row(found.record))) == found.record, line


def seeds() -> list[bytes]:
    """A line of every kind, and some together."""
    lines = [codec.encode(record).encode() for record in many.records(12)]
    return [*lines, b"\n".join(lines[:9]), b"\xef\xbb\xbf" + lines[0] + b"\r\n\r\n" + lines[1]]


if __name__ == "__main__":
    fuzz(read, seeds(), LONGEST)
