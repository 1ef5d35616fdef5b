"""Record files and tables with anything in them: taken whole, or refused in plain lines with nothing changed."""

import io
import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st

from logbook.actions.exporting import export_lines, export_table
from logbook.actions.importing import ImportRefused, import_file
from logbook.records import KINDS
from logbook.records.text import plain
from logbook.store import Store, journal, open_store
from tests.studio import furnish, print_out, sheet

QUICK = settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))


@pytest.fixture(scope="module")
def files(tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, bytes]:
    """A sound record file and a sound table, to be spoilt."""
    with open_store(tmp_path_factory.mktemp("sound") / "logbook.db") as store:
        furnish(store)
        print_out(store, sheet("a", note="=1+1"), sheet("b", attempt_of="a"))
        table = io.StringIO()
        export_table(store, None, table)
        return "\n".join(export_lines(store)).encode(), table.getvalue().encode()


@pytest.fixture(scope="module")
def empty(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Store]:
    """An empty logbook; every example leaves it empty."""
    with open_store(tmp_path_factory.mktemp("empty") / "logbook.db") as store:
        yield store


def _take(store: Store, data: bytes, name: str, kind: str | None = None) -> None:
    try:
        entry = import_file(store, io.BytesIO(data), name, kind=kind)
    except ImportRefused as refused:
        assert all(line == plain(line) for line in refused.lines()), refused.lines()
        assert all(len(line) < 600 for line in refused.lines()), refused.lines()
        entry = None
    if entry is not None:
        assert list(export_lines(store)) != []
        journal.undo(store)
    assert list(export_lines(store)) == []


edits = st.lists(st.tuples(st.floats(0, 1, exclude_max=True), st.binary(max_size=4), st.integers(0, 6)), min_size=1, max_size=6)


def _spoilt(data: bytes, changes: list[tuple[float, bytes, int]]) -> bytes:
    for share, put, taken in changes:
        place = int(share * len(data))
        data = data[:place] + put + data[place + taken :]
    return data


@QUICK
@given(changes=edits)
def test_a_record_file_with_bytes_changed_is_taken_whole_or_refused(
    files: tuple[bytes, bytes], empty: Store, changes: list[tuple[float, bytes, int]]
) -> None:
    _take(empty, _spoilt(files[0], changes), "day.jsonl")


@QUICK
@given(changes=edits)
def test_a_table_with_bytes_changed_is_taken_whole_or_refused(
    files: tuple[bytes, bytes], empty: Store, changes: list[tuple[float, bytes, int]]
) -> None:
    _take(empty, _spoilt(files[1], changes), "day.csv")


@QUICK
@given(data=st.binary(max_size=200), kind=st.sampled_from([None, *KINDS]))
@example(data=b"\xff\xfe", kind="print")
@example(data=b'kind,id\n"', kind=None)
@example(data=b"kind,\x1b[2J,\x1b[2J\n", kind=None)
@example(data=b"id\n" + b"x" * 200_000, kind="paper")
def test_any_bytes_as_a_table_are_refused_in_plain_lines_or_hold_nothing(empty: Store, data: bytes, kind: str | None) -> None:
    _take(empty, data, "day.csv", kind)


NASTY = [
    b'{"kind":"light","id":"x","name":"\\u0000"}',
    b'{"kind":"light","id":"x","name":"\\ud800"}',
    b'{"kind":"light","id":"x","name":"x","illuminance_lx":NaN}',
    b'{"kind":"light","id":"x","name":"x","illuminance_lx":1e999}',
    b'{"kind":"light","id":"x","name":"x","illuminance_lx":' + b"9" * 5_000 + b"}",
    b'{"kind":"light","id":"x","id":"y","name":"x","name":""}',
    b'{"kind":["light"],"id":"x"}',
    b'{"kind":"light","id":' + b'{"a":' * 5_000 + b"1" + b"}" * 5_000 + b',"name":"x"}',
    b"[" * 100_000,
    b'{"kind":"light","id":"x","name":"' + b"x" * 5_000_000 + b'"}',
    b'{"kind":"light","id":"x","name":"x"} {"kind":"light","id":"y","name":"y"}',
    json.dumps({"kind": "print", "id": "x", "settings": {str(n): n for n in range(5_000)}}).encode(),
    b"PK\x03\x04 a spreadsheet, not a table",
    b"\x1f\x8b\x08 packed",
    b"\x00" * 5_000,
]


@pytest.mark.parametrize("data", NASTY, ids=range(len(NASTY)))
def test_what_was_made_to_break_a_reader_is_refused_in_plain_lines(empty: Store, data: bytes) -> None:
    for name in ("day.jsonl", "day.csv"):
        _take(empty, data, name)
    with pytest.raises(ImportRefused):
        import_file(empty, io.BytesIO(data), "day.jsonl")


def test_a_line_that_never_ends_is_refused_without_holding_it_whole(empty: Store, tmp_path: Path) -> None:
    endless = tmp_path / "endless.jsonl"
    with endless.open("wb") as file:
        file.truncate(300_000_000)  # a hole: it reads as zeros and takes no room
    with endless.open("rb") as stream, pytest.raises(ImportRefused, match="longer than a record can be"):
        import_file(empty, stream, "endless.jsonl")
