"""CSV: a record comes back equal from the cells it is written as, no cell runs, and every fault is one plain line."""

import io

import atheris

with atheris.instrument_imports(include=["logbook"]):
    from logbook.records import KINDS, files, kind_of
    from logbook.records.table_form import to_cells
    from logbook.records.text import plain

from tests.bench import many
from tests.bench.fuzzing.run import fuzz

LONGEST = 4_096
NAMES = [None, *KINDS]
RUNNING = ("=", "+", "@", "\t", "\r")


def read(data: bytes) -> None:
    """A table; its first byte chooses the kind asked for."""
    if not data:
        return
    kind = NAMES[data[0] % len(NAMES)]
    for found in files.read_table(io.BytesIO(data[1:]), kind):
        assert all(str(fault) == plain(str(fault)) for fault in found.faults), found.faults
        if found.record is not None:
            assert not found.faults
            _check_cells(found)


def _check_cells(found: files.Read) -> None:
    assert found.record is not None
    cells = to_cells(found.record)
    for cell in cells.values():
        assert not cell.startswith(RUNNING), cells
        assert not cell.startswith("-") or _is_number(cell), cells
    out = io.StringIO()
    files.write_table([cells], list(cells), out)
    back = list(files.read_table(io.BytesIO(out.getvalue().encode()), kind_of(found.record)))
    assert [one.record for one in back if one.record or one.faults] == [found.record], (cells, back)


def _is_number(cell: str) -> bool:
    try:
        float(cell)
    except ValueError:
        return False
    return True


def seeds() -> list[bytes]:
    """A table of every kind."""
    tables = []
    for number, kind in enumerate(NAMES):
        rows = [to_cells(record) for record in many.records(12) if kind in (None, kind_of(record))][:5]
        columns = list(dict.fromkeys(name for row in rows for name in row))
        out = io.StringIO()
        files.write_table(rows, columns or ["kind"], out)
        tables.append(bytes([number]) + out.getvalue().encode())
    return tables


if __name__ == "__main__":
    fuzz(read, seeds(), LONGEST)
