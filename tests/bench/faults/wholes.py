"""What is saved as a whole or not at all: an import, a merge, a migration, a new file."""

import io
import shutil
from pathlib import Path

from logbook.actions import importing, merging
from logbook.records import Print, codec
from logbook.store import Store, journal, migrating, open_store, reading, thumbnails
from logbook.store import merging as store_merging
from tests.bench.faults.checks import NAME, Confirm, sane, small_studio, sound, whole_copies
from tests.studio import furnish, print_out, sheet

IMPORTED = 40

LATER = "CREATE TABLE later (a TEXT) STRICT; INSERT INTO later SELECT name FROM paper; ALTER TABLE paper ADD COLUMN gloss REAL;"


def import_all(store: Store, confirm: Confirm) -> None:
    lines = "\n".join(codec.encode(sheet(f"imported-{n}", hours=n / 9, note="x" * 300)) for n in range(IMPORTED))
    importing.import_file(store, io.BytesIO(lines.encode()), "prints.jsonl")
    confirm("all")


def all_or_nothing(prefix: str, number: int, folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        found = [id for id in reading.ids(store, Print) if id.startswith(prefix)]
        images = thumbnails.kept(store)
    faults = [] if len(found) in ((number,) if confirmed else (0, number)) else [f"{len(found)} of {number} came in"]
    if prefix == "theirs" and found and "groyne" not in images:
        faults.append("the records came in without their small image")
    return faults + sane(folder)


def two_studios(folder: Path) -> None:
    small_studio(folder)
    (folder / "upstairs").mkdir()
    small_studio(folder / "upstairs")
    with open_store(folder / "upstairs" / NAME) as store:
        print_out(store, *(sheet(f"theirs-{n}", hours=n) for n in range(12)))
        journal.write(store, "Corrected", save=[sheet("second", hours=1, note="changed upstairs")])
        thumbnails.write(store, "groyne", b"\xff\xd8 another" * 200)


def merge(store: Store, confirm: Confirm) -> None:
    with merging.other_logbook(store, store.path.parent / "upstairs" / NAME) as there:
        merging.bring_in(store, there, store_merging.plan(store, there), "upstairs")
        confirm("all")


def _newer(folder: Path) -> Path:
    scripts = folder / "scripts"
    scripts.mkdir(exist_ok=True)
    for script in migrating.folder().glob("*.sql"):
        shutil.copy(script, scripts)
    (scripts / "9000_later.sql").write_text(LATER, encoding="utf-8")
    return scripts


def to_migrate(folder: Path) -> None:
    small_studio(folder)
    _newer(folder)


def migrate(folder: Path, confirm: Confirm) -> None:
    with open_store(folder / NAME, known=migrating.migrations(folder / "scripts")):
        confirm("migrated")


def migrated(folder: Path, confirmed: list[str]) -> list[str]:
    faults = sound(folder / NAME) + whole_copies(folder)
    with open_store(folder / NAME, migrate=False, known=migrating.migrations(folder / "scripts")) as store:
        (tables,) = store.connection.execute("SELECT count(*) FROM sqlite_master WHERE name = 'later'").fetchone()
        columns = [name for _, name, *_ in store.connection.execute("PRAGMA table_info(paper)")]
        faults += [] if (tables == 1) == ("gloss" in columns) else ["it was migrated by halves"]
        if confirmed and not tables:
            faults.append("the migration was confirmed and is gone")
        if tables and not list(folder.glob("*before-9000_later")):
            faults.append("no copy was kept before the migration")
    with open_store(folder / NAME, known=migrating.migrations(folder / "scripts")) as store:
        faults += [] if reading.count(store, Print) == 2 else ["prints were lost on the way"]
    return faults


def create(folder: Path, confirm: Confirm) -> None:
    with open_store(folder / NAME) as store:
        furnish(store)
        print_out(store, sheet("first"))
        confirm("first")


def created(folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        there = reading.get(store, Print, "first") is not None
        faults = [] if there or not confirmed else ["what was confirmed is gone"]
    return faults + sound(folder / NAME)
