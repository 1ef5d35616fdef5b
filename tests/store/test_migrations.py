"""Files of every earlier version come up to this one with everything they held.

``versions/NNNN_name.json`` holds rows of the demonstration as that version's tables had them. Once a migration is added,
``python -m tests.store.test_migrations`` writes those of the new version.
"""

import json
import sqlite3
from collections.abc import Iterable
from contextlib import closing
from datetime import date
from pathlib import Path
from typing import Any

import pytest

from logbook.actions.exporting import export_lines
from logbook.records import Judgement, Print, Record, codec, kind_of
from logbook.store import bulk, history, journal, migrating, open_store, opening, references
from logbook.store.checking import check_file

VERSIONS = Path(__file__).parent / "versions"
NAMES = [script.stem for script in sorted(migrating.folder().glob("*.sql"))]
DERIVED = ("print_words", "sqlite_", "home")  # home says on which computer the file lies


def some_of_the_demonstration(prints: int = 40) -> list[Record]:
    """The first prints and their judgements, with every record they refer to and some of every other kind."""
    import demo_db

    records = demo_db.records(date(2026, 11, 25))
    by_key = {(kind_of(record), record.id): record for record in records}
    chosen: dict[tuple[str, str], Record] = {}
    seen: dict[str, int] = {}
    for record in records:
        kind = kind_of(record)
        judged = isinstance(record, Judgement) and ("print", record.print) in chosen
        seen[kind] = seen.get(kind, 0) + 1
        if judged or (not isinstance(record, Judgement) and seen[kind] <= (prints if isinstance(record, Print) else 5)):
            chosen[kind, record.id] = record
    waiting = list(chosen.values())
    while waiting:
        for _, kind, id in references.of(waiting.pop()):
            if (kind, id) not in chosen:
                chosen[kind, id] = by_key[kind, id]
                waiting.append(by_key[kind, id])
    return list(chosen.values())


def write_version(folder: Path) -> None:
    """Keep rows of the newest version for the versions to come."""
    path = folder / "version.db"
    with open_store(path) as store:
        bulk.add(store, "Imported", some_of_the_demonstration())
        names = [name for (name,) in store.connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        kept = [name for name in names if not name.startswith((*DERIVED, "_sqlite"))]
        rows = {name: [list(row) for row in store.connection.execute(f'SELECT * FROM "{name}"')] for name in kept}
        rows = {name: held for name, held in rows.items() if held}
        text = json.dumps({"rows": rows, "records": list(export_lines(store))}, ensure_ascii=False, separators=(",", ":"))
    (VERSIONS / f"{NAMES[-1]}.json").write_text(text + "\n", encoding="utf-8")


def made_as(version: str, path: Path, kept: dict[str, Any]) -> None:
    """A file as the program of that version left it."""
    earlier = path.parent / "earlier"
    earlier.mkdir()
    for script in migrating.folder().glob("*.sql"):
        if script.stem <= version:
            (earlier / script.name).write_text(script.read_text(encoding="utf-8"), encoding="utf-8")
    open_store(path, known=migrating.migrations(earlier)).close()
    with closing(sqlite3.connect(path, isolation_level=None)) as connection:
        connection.execute("BEGIN")
        for name, rows in kept["rows"].items():
            connection.executemany(f'INSERT INTO "{name}" VALUES ({", ".join("?" * len(rows[0]))})', rows)
        connection.execute("INSERT INTO print_words (print_words) VALUES ('rebuild')")
        connection.execute("COMMIT")


def read(lines: Iterable[str]) -> list[Any]:
    """The records of lines; what a version did not know yet has its default. In which order settings are named says nothing."""
    found = [codec.to_mapping(codec.decode(line)) for line in lines]
    return sorted(found, key=lambda one: (one["kind"], one["id"]))


@pytest.mark.parametrize("version", NAMES)
def test_a_file_of_each_version_opens_with_everything_it_held(version: str, tmp_path: Path) -> None:
    kept = json.loads((VERSIONS / f"{version}.json").read_text(encoding="utf-8"))
    path, records = tmp_path / "logbook.db", read(kept["records"])
    if version < "0004":  # the number stood beside the print
        numbers = {print_id: number for number, print_id in kept["rows"]["print_number"]}
        records = [{**record, "number": numbers[record["id"]]} if record["kind"] == "print" else record for record in records]
    made_as(version, path, kept)
    assert check_file(path) == []  # a backup of that version can be brought back
    with open_store(path) as store:
        assert read(export_lines(store)) == records
        assert history.count(store, "keep") > 0
        assert journal.undo(store) is not None
        assert list(export_lines(store)) == []
        journal.redo(store)
        assert read(export_lines(store)) == records
    assert check_file(path) == []
    copies = list(tmp_path.glob("logbook.db.before-*"))
    assert len(copies) == (version != NAMES[-1])


@pytest.mark.parametrize("attempt", range(12))  # who comes first is chance
def test_programs_that_open_a_new_file_at_once_make_it_once(
    attempt: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from concurrent.futures import ThreadPoolExecutor

    monkeypatch.setattr(opening, "WAIT_SECONDS", 20.0)
    path = tmp_path / "logbook.db"

    def look(_: int) -> int:
        with open_store(path) as store:
            return history.count(store)

    with ThreadPoolExecutor(6) as pool:
        assert list(pool.map(look, range(6))) == [0] * 6
    assert check_file(path) == []


if __name__ == "__main__":
    from tempfile import TemporaryDirectory

    with TemporaryDirectory() as temporary:
        write_version(Path(temporary))
