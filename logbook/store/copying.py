"""Consistent copies of an open database: written beside, verified, then renamed into place."""

import os
import secrets
import sqlite3
import time
from collections.abc import Callable
from pathlib import Path

from logbook.store.refusals import StoreRefused, in_plain_words, in_use

WAIT_SECONDS = 5.0
BESIDE = ("-wal", "-shm", "-journal")


def copy_database(source: sqlite3.Connection, target: Path) -> Path:
    """Copy what ``source`` holds to ``target``, owner-readable only. Raises ``StoreRefused`` where the copy is not sound.

    Until the copy is complete and verified nothing stands at ``target`` but what stood there before.
    """
    with in_plain_words(target):
        target.parent.mkdir(parents=True, exist_ok=True)
        unfinished = target.with_name(f".{target.name}.{secrets.token_hex(8)}.part")
        try:
            os.close(os.open(unfinished, os.O_CREAT | os.O_RDWR | os.O_EXCL, 0o600))
            _copy(source, unfinished)
            to_disk(unfinished)
            unfinished.replace(target)
            to_disk(target.parent)
        finally:
            for suffix in ("", *BESIDE):
                unfinished.with_name(unfinished.name + suffix).unlink(missing_ok=True)
    return target


def _copy(source: sqlite3.Connection, path: Path) -> None:
    copy = sqlite3.connect(path, isolation_level=None)
    try:
        copy.execute("PRAGMA synchronous = OFF")  # the whole copy is synced at its end
        source.backup(copy, progress=patience(path))
        copy.execute("PRAGMA journal_mode = DELETE")  # one file, with no -wal beside it
        (verdict,) = copy.execute("PRAGMA integrity_check(1)").fetchone()
        if verdict != "ok":
            raise StoreRefused("the logbook is damaged and no copy was made; `logbook check` says more")
    except sqlite3.OperationalError:
        raise
    except sqlite3.DatabaseError as error:
        raise StoreRefused(f"the logbook is damaged and no copy was made; `logbook check` says more ({error})") from error
    finally:
        copy.close()


def patience(path: Path) -> Callable[[int, int, int], None]:
    """For ``Connection.backup``, which would wait for a locked file for ever: raises ``InUse`` when it has waited enough."""
    give_up = time.monotonic() + WAIT_SECONDS

    def wait(status: int, remaining: int, total: int) -> None:
        if status in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED) and time.monotonic() > give_up:
            raise in_use(path)

    return wait


def to_disk(path: Path) -> None:
    """Wait until a file, or the names in a folder, are on the disk."""
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
