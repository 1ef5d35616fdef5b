"""Copies: made by the day and by hand, and put back over what is sound, damaged or missing."""

import shutil
from datetime import date
from pathlib import Path

from logbook.records import Light
from logbook.store import Store, backup, journal, open_store, reading
from logbook.store.checking import check_file
from tests.bench.faults.checks import NAME, Confirm, sane, small_studio

TODAY = date(2026, 11, 25)


def with_old_copy(folder: Path) -> None:
    small_studio(folder)
    with open_store(folder / NAME) as store:
        backup.back_up(store, folder / "copy.db")
        journal.write(store, "A light", save=[Light(id="late", name="late")])
    for day in range(10, 19):  # nine older ones, of which some must go
        (folder / "backups").mkdir(exist_ok=True)
        shutil.copy(folder / "copy.db", folder / "backups" / f"logbook-2026-11-{day}.db")


def back_up(store: Store, confirm: Confirm) -> None:
    backup.back_up_today(store, TODAY)
    confirm("dated")
    backup.back_up(store, store.path.parent / "copy.db", replace=True)
    confirm("by hand")


def backed_up(folder: Path, confirmed: list[str]) -> list[str]:
    faults = []
    today = folder / "backups" / f"logbook-{TODAY}.db"
    if "dated" in confirmed and not today.exists():
        faults.append("the dated backup was confirmed and is absent")
    if len(backup.dated(folder / NAME)) < 8:
        faults.append("backups went before the new one stood")
    with open_store(folder / "copy.db", migrate=False) as store:
        if "by hand" in confirmed and reading.get(store, Light, "late") is None:
            faults.append("the copy was confirmed and is the old one")
    return faults + sane(folder)


def damaged(folder: Path) -> None:
    with_old_copy(folder)
    content = bytearray((folder / NAME).read_bytes())
    content[4096 * 3 : 4096 * 3 + 64] = b"\xaa" * 64
    (folder / NAME).write_bytes(bytes(content))


def missing(folder: Path) -> None:
    """The file was deleted while the program was killed: its write-ahead log stands there alone."""
    with_old_copy(folder)
    with open_store(folder / NAME) as store:
        journal.write(store, "A light", save=[Light(id="in-the-wal", name="late")])
        shutil.copy(folder / f"{NAME}-wal", folder / "kept-wal")
    (folder / NAME).unlink()
    (folder / "kept-wal").rename(folder / f"{NAME}-wal")


def restore(folder: Path, confirm: Confirm) -> None:
    backup.restore(folder / NAME, folder / "copy.db", TODAY)
    confirm("restored")


def restored(start: str, folder: Path, confirmed: list[str]) -> list[str]:
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
    return sane(folder)
