"""What the store refuses, each in one line, and SQLite's errors in these words."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from logbook.records.refusal import Refusal


class StoreRefused(Refusal):
    """The logbook file can't be used as asked; nothing was changed."""


class InUse(StoreRefused):
    """Another program held the file for longer than the store waits."""


class Unwritable(StoreRefused):
    """The file, its folder or its disk does not take what was to be saved."""


class Gone(Unwritable):
    """The file that was opened is no longer the one at its path: opening it again helps, or bringing its folder back."""


@contextmanager
def in_plain_words(path: Path, *, files: bool = True) -> Iterator[None]:
    """Turn what SQLite says of the file at ``path`` into a ``StoreRefused``, and what the system says where ``files``."""
    try:
        yield
    except sqlite3.OperationalError as error:
        raise _operational(path, error) from error
    except sqlite3.IntegrityError as error:
        raise StoreRefused(f"this no longer fits what {path} holds ({error}); nothing was saved, look again") from error
    except sqlite3.DatabaseError as error:
        raise StoreRefused(f"{path} is damaged or no logbook ({error}); `logbook check` says more") from error
    except OSError as error:
        if not files:
            raise
        raise Unwritable(f"{path} can't be opened or written ({error.strerror or error}); nothing was saved") from error


def _operational(path: Path, error: sqlite3.OperationalError) -> StoreRefused:
    said = str(error)
    if "locked" in said or "busy" in said:
        return InUse(f"{path} was waited for and is still in use by another program; nothing was saved, try again")
    if "full" in said:
        return Unwritable(f"the disk that holds {path} is full; nothing was saved")
    if "readonly" in said or "unable to open" in said or "I/O error" in said:
        return Unwritable(f"{path} can't be written ({said}); nothing was saved")
    return StoreRefused(f"{path}: {said}; nothing was saved")
