"""Backups beside the logbook: dated, verified when made, seven kept and then one a month for a year."""

import re
import shutil
import sqlite3
from datetime import date
from pathlib import Path

from logbook.store.checking import check_file
from logbook.store.copying import copy_database
from logbook.store.opening import Store, open_store
from logbook.store.refusals import StoreRefused

KEPT_DAYS = 7
KEPT_MONTHS = 12
_DATED = re.compile(r"^(?P<stem>.+)-(?P<day>\d{4}-\d{2}-\d{2})\.db$")


def folder_of(path: Path) -> Path:
    """Where the dated backups of a logbook lie."""
    return path.parent / "backups"


def back_up(store: Store, target: Path) -> Path:
    """A consistent, verified copy at ``target``. Raises ``StoreRefused`` where the target is the logbook itself."""
    if target.exists() and target.samefile(store.path):
        raise StoreRefused(f"{target} is the logbook itself; name another file")
    if target.is_dir():
        target = target / f"{store.path.stem}-backup.db"
    return copy_database(store.connection, target)


def back_up_today(store: Store, today: date) -> Path | None:
    """The dated backup of the first start of a day; None where there is one already. Old ones are thinned out."""
    target = folder_of(store.path) / f"{store.path.stem}-{today.isoformat()}.db"
    if target.exists():
        return None
    folder_of(store.path).mkdir(mode=0o700, exist_ok=True)
    copy_database(store.connection, target)
    for old in superfluous(dated(store.path)):
        old.unlink(missing_ok=True)
    return target


def dated(path: Path) -> dict[date, Path]:
    """The dated backups of a logbook by their day."""
    found = {}
    for file in folder_of(path).glob(f"{path.stem}-*.db"):
        named = _DATED.match(file.name)
        if named is not None and named["stem"] == path.stem:
            try:
                found[date.fromisoformat(named["day"])] = file
            except ValueError:
                continue
    return found


def superfluous(backups: dict[date, Path]) -> list[Path]:
    """The backups beyond the newest seven, and beyond the first of each of the last twelve months that has one."""
    days = sorted(backups, reverse=True)
    kept = set(days[:KEPT_DAYS])
    firsts = {(day.year, day.month): day for day in days}  # ends with the earliest of each month
    kept |= set(sorted(firsts.values(), reverse=True)[:KEPT_MONTHS])
    return [backups[day] for day in days if day not in kept]


def restore(path: Path, backup: Path, today: date) -> Path | None:
    """Put ``backup`` in the logbook's place; what stood there is kept first, at the path that comes back.

    Raises ``StoreRefused`` with nothing changed where the backup is damaged or no logbook.
    """
    if not backup.is_file():
        raise StoreRefused(f"{backup} does not exist")
    if path.exists() and path.samefile(backup):
        raise StoreRefused(f"{backup} is the logbook itself; name a backup")
    faults = check_file(backup)
    if faults:
        raise StoreRefused(f"{backup} was not restored: {faults[0]}")
    with open_store(backup, create=False, migrate=False) as source:
        if not path.exists() or not path.stat().st_size:
            copy_database(source.connection, path)
            return None
        kept = _free_name(path, today)
        if check_file(path):
            _replace_damaged(path, kept, source)
        else:
            _replace_sound(path, kept, source)
    return kept


def _free_name(path: Path, today: date) -> Path:
    number = 1
    while (kept := path.with_name(f"{path.stem}-before-restore-{today.isoformat()}-{number}.db")).exists():
        number += 1
    return kept


def _replace_sound(path: Path, kept: Path, source: Store) -> None:
    """In one transaction within the file, so that a program that has it open sees the restored logbook, or the old one."""
    with open_store(path, create=False, migrate=False) as old:
        copy_database(old.connection, kept)
    target = sqlite3.connect(path, isolation_level=None)
    try:
        target.execute("PRAGMA synchronous = FULL")
        source.connection.backup(target)
    finally:
        target.close()


def _replace_damaged(path: Path, kept: Path, source: Store) -> None:
    """The damaged file is kept byte for byte, with what lies beside it, since somebody may still save something from it."""
    for suffix in ("", "-wal", "-shm"):
        beside = path.with_name(path.name + suffix)
        if beside.exists():
            shutil.copy2(beside, kept.with_name(kept.name + suffix))
    for suffix in ("-wal", "-shm"):
        path.with_name(path.name + suffix).unlink(missing_ok=True)
    copy_database(source.connection, path)
