"""What the store refuses, each in one line, and SQLite's errors in these words."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import msgspec

from logbook.records.long_work import GivenUp, still_asked
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
        if not still_asked():  # the connection was told to stop in the middle of a statement
            raise GivenUp from error
        raise _operational(path, error) from error
    except sqlite3.IntegrityError as error:
        raise StoreRefused(f"this no longer fits what is in the logbook; nothing was saved, look again ({error})") from error
    except (sqlite3.DatabaseError, UnicodeDecodeError, msgspec.DecodeError) as error:
        raise StoreRefused(f"the file is damaged or no logbook; `logbook check` says more ({path}: {error})") from error
    except OSError as error:
        if not files:
            raise
        raise Unwritable(f"the file can't be opened or written; nothing was saved ({path}: {error.strerror or error})") from error


def _operational(path: Path, error: sqlite3.OperationalError) -> StoreRefused:
    said = str(error)
    if "locked" in said or "busy" in said:
        return in_use(path)
    if "full" in said:
        return Unwritable(f"the disk is full; nothing was saved ({path})")
    if "readonly" in said or "unable to open" in said or "I/O error" in said:
        return Unwritable(f"the file can't be written; nothing was saved ({path}: {said})")
    return StoreRefused(f"nothing was saved: {said} ({path})")


def in_use(path: Path) -> InUse:
    """What is said of a locked file. As with all of these, the reason stands before the path: a narrow screen cuts the end."""
    return InUse(f"in use by another program, and waited for; nothing was changed, try again ({path})")
