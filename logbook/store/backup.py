"""Backups beside the logbook: dated, verified when made, seven kept and then one a month for a year."""

import os
import re
import shutil
import sqlite3
import time
from datetime import date
from pathlib import Path

from logbook.store.checking import check_file, is_logbook
from logbook.store.copying import BESIDE, WAIT_SECONDS, copy_database, patience, to_disk
from logbook.store.opening import Store, open_store
from logbook.store.refusals import StoreRefused, in_plain_words

KEPT_DAYS = 7
KEPT_MONTHS = 12
STALE_SECONDS = 86_400  # no copy takes a day: an older unfinished one was left by a program that was killed
_DATED = re.compile(r"^(?P<stem>.+)-(?P<day>\d{4}-\d{2}-\d{2})\.db$")


def folder_of(path: Path) -> Path:
    """Where the dated backups of a logbook lie."""
    return path.parent / "backups"


def back_up(store: Store, target: Path, *, replace: bool = False) -> Path:
    """A consistent, verified copy at ``target``; with ``replace`` in place of an older copy.

    Raises ``StoreRefused`` where something else stands there: the logbook itself, a link, or a logbook that is in use.
    """
    if target.is_dir():
        target = target / f"{store.path.stem}-backup.db"
    if target.exists() and target.samefile(store.path):
        raise StoreRefused(f"{target} is the logbook itself; name another file")
    if os.path.lexists(target):
        if target.is_symlink() or not is_logbook(target) or target.with_name(f"{target.name}-wal").exists():
            raise StoreRefused(f"{target} is there already and is no backup; name another file")
        if not replace:
            raise StoreRefused(f"{target} is there already; --replace puts the new copy in its place")
    return copy_database(store.connection, target)


def back_up_today(store: Store, today: date) -> Path | None:
    """The dated backup of the first start of a day; None where there is one already. Old ones are thinned out."""
    target = folder_of(store.path) / f"{store.path.stem}-{today.isoformat()}.db"
    if target.exists():
        return None
    with in_plain_words(target):
        target.parent.mkdir(mode=0o700, exist_ok=True)
        copy_database(store.connection, target)
        for old in [*superfluous(dated(store.path)), *_unfinished(target.parent)]:
            old.unlink(missing_ok=True)
    return target


def _unfinished(folder: Path) -> list[Path]:
    """What is left of copies that were being made when the program was killed, a day ago or more."""
    return [left for left in folder.glob(".*.part*") if time.time() - left.stat().st_mtime > STALE_SECONDS]


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
    with open_store(backup, create=False, migrate=False) as source, in_plain_words(path):
        if not _there(path):
            copy_database(source.connection, path)
            return None
        kept = _free_name(path, today)
        if check_file(path):
            return _replace_damaged(path, kept, source)
        return _replace_sound(path, kept, source)


def _there(path: Path) -> list[Path]:
    """The logbook's file and what SQLite keeps beside it, as far as there is something in them."""
    beside = [path.with_name(path.name + suffix) for suffix in ("", *BESIDE)]
    return [file for file in beside if file.exists() and file.stat().st_size]


def _free_name(path: Path, today: date) -> Path:
    number = 1
    while _there(kept := path.with_name(f"{path.stem}-before-restore-{today.isoformat()}-{number}.db")):
        number += 1
    return kept


def _replace_sound(path: Path, kept: Path, source: Store) -> Path:
    """In one transaction within the file, so that a program that has it open sees the restored logbook, or the old one."""
    with open_store(path, create=False, migrate=False) as old:
        copy_database(old.connection, kept)
    target = sqlite3.connect(path, isolation_level=None, timeout=WAIT_SECONDS)
    try:
        target.execute("PRAGMA synchronous = FULL")
        source.connection.backup(target, progress=patience(path))
    finally:
        target.close()
    _remember_numbers(path, kept)
    return kept


def _remember_numbers(path: Path, kept: Path) -> None:
    """Numbers given since the backup stand on prints, although the logbook that comes back has never heard of them."""
    with open_store(kept, create=False, migrate=False) as before, open_store(path) as restored, restored.writing() as connection:
        given = before.connection.execute("SELECT print, number FROM print_number")
        connection.executemany("INSERT OR IGNORE INTO print_number (print, number) VALUES (?, ?)", given.fetchall())


def _replace_damaged(path: Path, kept: Path, source: Store) -> Path:
    """The damaged file is kept byte for byte, with what lies beside it, since somebody may still save something from it.

    A write-ahead log left beside the new file would be taken for its own and damage it.
    """
    found = _there(path)
    for file in found:
        copy = kept.with_name(kept.name + file.name.removeprefix(path.name))
        unfinished = kept.with_name(f".{copy.name}.part")
        try:
            shutil.copy2(file, unfinished)
            to_disk(unfinished)
            unfinished.replace(copy)
        finally:
            unfinished.unlink(missing_ok=True)
    to_disk(path.parent)
    for suffix in BESIDE:
        path.with_name(path.name + suffix).unlink(missing_ok=True)
    copy_database(source.connection, path)
    return kept.with_name(kept.name + found[0].name.removeprefix(path.name))
