"""Consistent copies of an open database: written beside, verified, then renamed into place."""

import os
import sqlite3
from pathlib import Path

from logbook.store.refusals import StoreRefused


def copy_database(source: sqlite3.Connection, target: Path) -> Path:
    """Copy what ``source`` holds to ``target``, owner-readable only. Raises ``StoreRefused`` where the copy is not sound.

    Until the copy is complete and verified nothing stands at ``target`` but what stood there before.
    """
    target.parent.mkdir(parents=True, exist_ok=True)
    unfinished = target.with_name(f".{target.name}.{os.getpid()}.part")
    os.close(os.open(unfinished, os.O_CREAT | os.O_RDWR | os.O_TRUNC, 0o600))
    try:
        _copy(source, unfinished)
        _to_disk(unfinished)
        unfinished.replace(target)
        _to_disk(target.parent)
    finally:
        unfinished.unlink(missing_ok=True)
    return target


def _copy(source: sqlite3.Connection, path: Path) -> None:
    copy = sqlite3.connect(path, isolation_level=None)
    try:
        source.backup(copy)
        copy.execute("PRAGMA journal_mode = DELETE")  # one file, with no -wal beside it
        (verdict,) = copy.execute("PRAGMA integrity_check(1)").fetchone()
        if verdict != "ok":
            raise StoreRefused(f"the copy would be damaged ({verdict}); it was not kept")
    finally:
        copy.close()


def _to_disk(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
