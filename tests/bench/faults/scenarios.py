"""What the logbook does while a fault strikes, and what must hold afterwards: all that was confirmed, nothing by halves."""

import io
import shutil
from collections.abc import Callable
from datetime import date
from functools import partial
from pathlib import Path
from typing import NamedTuple

from logbook.actions import importing, judging, merging
from logbook.records import Judgement, Light, Print, codec
from logbook.records.refusal import Refusal
from logbook.store import Store, backup, drafts, journal, migrating, open_store, reading, thumbnails
from logbook.store import merging as store_merging
from logbook.store.checking import check_file
from tests.bench.faults import shim
from tests.studio import furnish, one_more, print_out, sheet

TODAY = date(2026, 11, 25)
NAME = "logbook.db"
IMPORTED = 40
ENTRIES_BEFORE = 3  # the studio and its two prints
LATER = "CREATE TABLE later (a TEXT) STRICT; INSERT INTO later SELECT name FROM paper; ALTER TABLE paper ADD COLUMN gloss REAL;"

Confirm = Callable[[str], None]
Work = Callable[[Path, Confirm], None]
Verify = Callable[[Path, list[str]], list[str]]


class Scenario(NamedTuple):
    """``prepare`` fills a folder; ``work`` runs under fault and confirms what it saved; ``verify`` names what is wrong then."""

    name: str
    prepare: Callable[[Path], None]
    work: Work
    verify: Verify


def _studio(folder: Path) -> None:
    with open_store(folder / NAME) as store:
        furnish(store)
        print_out(store, sheet("first"), sheet("second", hours=1))
        thumbnails.write(store, "ebb", b"\xff\xd8 a small image" * 200)


def _opened(work: Callable[[Store, Confirm], None]) -> Work:
    def run(folder: Path, confirm: Confirm) -> None:
        with open_store(folder / NAME) as store:
            try:
                work(store, confirm)
            except Refusal:
                shim.disarm()  # the disk has room again: the open logbook must take the next save
                drafts.write(store, "next", {"note": "after the fault"})
                confirm(GOES_ON)
                raise

    return run


GOES_ON = "goes on"


def went_on(folder: Path) -> list[str]:
    """Whether what was saved after the fault, by the program it struck, is there."""
    with open_store(folder / NAME) as store:
        return [] if drafts.read(store, "next") else ["what was saved after the fault is gone"]


def _sound(path: Path) -> list[str]:
    return [f"{path.name}: {fault}" for fault in check_file(path)]


def _whole_copies(folder: Path) -> list[str]:
    """Every copy that bears a name is sound; one that does not is unfinished and hidden."""
    copies = [*folder.glob("backups/*"), *folder.glob("*before*"), *folder.glob("copy*.db")]
    return [fault for path in copies if not path.name.startswith(".") for fault in _sound(path)]


def _sane(folder: Path) -> list[str]:
    faults = _sound(folder / NAME) + _whole_copies(folder)
    with open_store(folder / NAME) as store:
        faults += [] if reading.get(store, Print, "first") is not None else ["what was there before is gone"]
        before = reading.count(store, Print)
        one_more(store)  # and work goes on
        faults += [] if reading.count(store, Print) == before + 1 else ["nothing can be logged any more"]
    return faults


# Saving, one confirmed entry at a time


def _log(store: Store, confirm: Confirm) -> None:
    for _ in range(3):
        confirm(one_more(store).print.id)


def _judge(store: Store, confirm: Confirm) -> None:
    for darkness in (-1, -2, -3):
        confirm(judging.judge(store, "second", darkness=darkness, verdict="redo", note="too dark").judgement.id)


def _note_lights(store: Store, confirm: Confirm) -> None:
    for number in range(3):
        journal.write(store, "A light", save=[Light(id=f"light-{number}", name="bench", illuminance_lx=500)])
        confirm(f"light-{number}")


def _each_confirmed(kind: type[Print | Judgement | Light], before: int, folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        there = reading.ids(store, kind)
        faults = [f"{id} was confirmed and is gone" for id in confirmed if id not in there]
        extra = len(there) - before - len(confirmed)
        if not 0 <= extra <= 1:  # one may have been saved without living to say so
            faults.append(f"{extra} more than were confirmed")
        if len(journal.entries(store)) != ENTRIES_BEFORE + len(there) - before:
            faults.append("the journal and the records disagree")
    return faults + _sane(folder)


def _step(store: Store, confirm: Confirm) -> None:
    journal.undo(store)
    confirm("undone")
    journal.redo(store)
    confirm("redone")
    journal.write(store, "Deleted", delete=[sheet("second", hours=1)])
    confirm("deleted")


def _stepped(folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        there = reading.get(store, Print, "second") is not None
    expected = [{True, False}, {False, True}, {True, False}, {False}][len(confirmed)]
    faults = [] if there in expected else [f"the print is {'there' if there else 'gone'} after {confirmed}"]
    return faults + _sane(folder)


def _keep_draft(store: Store, confirm: Confirm) -> None:
    for number in range(4):
        drafts.write(store, "print", {"note": f"{number} half filled"})
        confirm(str(number))


def _draft_kept(folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        kept = drafts.read(store, "print")
    number = -1 if kept is None else int(kept["note"].split()[0])
    faults = [] if number in (len(confirmed) - 1, len(confirmed)) else [f"draft {number} after {confirmed}"]
    return faults + _sane(folder)


# All or nothing


def _import(store: Store, confirm: Confirm) -> None:
    lines = "\n".join(codec.encode(sheet(f"imported-{n}", hours=n / 9, note="x" * 300)) for n in range(IMPORTED))
    importing.import_file(store, io.BytesIO(lines.encode()), "prints.jsonl")
    confirm("all")


def _all_or_nothing(prefix: str, number: int, folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        found = [id for id in reading.ids(store, Print) if id.startswith(prefix)]
        images = thumbnails.kept(store)
    faults = [] if len(found) in ((number,) if confirmed else (0, number)) else [f"{len(found)} of {number} came in"]
    if prefix == "theirs" and found and "groyne" not in images:
        faults.append("the records came in without their small image")
    return faults + _sane(folder)


def _two_studios(folder: Path) -> None:
    _studio(folder)
    (folder / "upstairs").mkdir()
    _studio(folder / "upstairs")
    with open_store(folder / "upstairs" / NAME) as store:
        print_out(store, *(sheet(f"theirs-{n}", hours=n) for n in range(12)))
        journal.write(store, "Corrected", save=[sheet("second", hours=1, note="changed upstairs")])
        thumbnails.write(store, "groyne", b"\xff\xd8 another" * 200)


def _merge(store: Store, confirm: Confirm) -> None:
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


def _to_migrate(folder: Path) -> None:
    _studio(folder)
    _newer(folder)


def _migrate(folder: Path, confirm: Confirm) -> None:
    with open_store(folder / NAME, known=migrating.migrations(folder / "scripts")):
        confirm("migrated")


def _migrated(folder: Path, confirmed: list[str]) -> list[str]:
    faults = _sound(folder / NAME) + _whole_copies(folder)
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


def _create(folder: Path, confirm: Confirm) -> None:
    with open_store(folder / NAME) as store:
        furnish(store)
        print_out(store, sheet("first"))
        confirm("first")


def _created(folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        there = reading.get(store, Print, "first") is not None
        faults = [] if there or not confirmed else ["what was confirmed is gone"]
    return faults + _sound(folder / NAME)


# Copies


def _with_old_copy(folder: Path) -> None:
    _studio(folder)
    with open_store(folder / NAME) as store:
        backup.back_up(store, folder / "copy.db")
        journal.write(store, "A light", save=[Light(id="late", name="late")])
    for day in range(10, 19):  # nine older ones, of which some must go
        (folder / "backups").mkdir(exist_ok=True)
        shutil.copy(folder / "copy.db", folder / "backups" / f"logbook-2026-11-{day}.db")


def _back_up(store: Store, confirm: Confirm) -> None:
    backup.back_up_today(store, TODAY)
    confirm("dated")
    backup.back_up(store, store.path.parent / "copy.db")
    confirm("by hand")


def _backed_up(folder: Path, confirmed: list[str]) -> list[str]:
    faults = []
    today = folder / "backups" / f"logbook-{TODAY}.db"
    if "dated" in confirmed and not today.exists():
        faults.append("the dated backup was confirmed and is absent")
    if len(backup.dated(folder / NAME)) < 8:
        faults.append("backups went before the new one stood")
    with open_store(folder / "copy.db", migrate=False) as store:
        if "by hand" in confirmed and reading.get(store, Light, "late") is None:
            faults.append("the copy was confirmed and is the old one")
    return faults + _sane(folder)


def _damaged(folder: Path) -> None:
    _with_old_copy(folder)
    content = bytearray((folder / NAME).read_bytes())
    content[4096 * 3 : 4096 * 3 + 64] = b"\xaa" * 64
    (folder / NAME).write_bytes(bytes(content))


def _missing(folder: Path) -> None:
    """The file was deleted while the program was killed: its write-ahead log stands there alone."""
    _with_old_copy(folder)
    with open_store(folder / NAME) as store:
        journal.write(store, "A light", save=[Light(id="in-the-wal", name="late")])
        shutil.copy(folder / f"{NAME}-wal", folder / "kept-wal")
    (folder / NAME).unlink()
    (folder / "kept-wal").rename(folder / f"{NAME}-wal")


def _restore(folder: Path, confirm: Confirm) -> None:
    backup.restore(folder / NAME, folder / "copy.db", TODAY)
    confirm("restored")


def _restored(start: str, folder: Path, confirmed: list[str]) -> list[str]:
    path = folder / NAME
    if not confirmed and start != "sound" and check_file(path):  # still damaged or missing: the way back must be open
        backup.restore(path, folder / "copy.db", TODAY)
        confirmed = ["restored"]
    with open_store(path) as store:
        late = reading.get(store, Light, "late") is not None
    faults = ["the restore was confirmed and the file is the old one"] if confirmed and late else []
    if start == "sound" and not late and not list(folder.glob("*before-restore*")):
        faults.append("what was there was not kept")
    return faults + _sane_copies_aside(folder, start)


def _sane_copies_aside(folder: Path, start: str) -> list[str]:
    if start != "sound":  # what was kept is as damaged as it was
        for kept in folder.glob("*before-restore*"):
            kept.unlink()
    return _sane(folder)


SCENARIOS = (
    Scenario("log", _studio, _opened(_log), partial(_each_confirmed, Print, 2)),
    Scenario("judge", _studio, _opened(_judge), partial(_each_confirmed, Judgement, 0)),
    Scenario("note", _studio, _opened(_note_lights), partial(_each_confirmed, Light, 1)),
    Scenario("undo, redo, delete", _studio, _opened(_step), _stepped),
    Scenario("keep a draft", _studio, _opened(_keep_draft), _draft_kept),
    Scenario("import", _studio, _opened(_import), partial(_all_or_nothing, "imported", IMPORTED)),
    Scenario("merge", _two_studios, _opened(_merge), partial(_all_or_nothing, "theirs", 12)),
    Scenario("migrate", _to_migrate, _migrate, _migrated),
    Scenario("create", lambda folder: None, _create, _created),
    Scenario("back up", _with_old_copy, _opened(_back_up), _backed_up),
    Scenario("restore", _with_old_copy, _restore, partial(_restored, "sound")),
    Scenario("restore over damage", _damaged, _restore, partial(_restored, "damaged")),
    Scenario("restore what is missing", _missing, _restore, partial(_restored, "missing")),
)
