"""The shape of the file: migrations from ``schemas/database``, applied in order, each in one transaction."""

import sqlite3
from collections.abc import Iterator
from functools import cache
from pathlib import Path

from sqlite_utils import Database, Migrations

import logbook

SET_NAME = "logbook"


@cache
def folder() -> Path:
    """Where the migrations lie: inside an installed package, or beside it in a checkout."""
    package = Path(logbook.__file__).parent
    installed = package / "schemas" / "database"
    return installed if installed.is_dir() else package.parent / "schemas" / "database"


def migrations(scripts: Path | None = None) -> Migrations:
    """The migrations of ``scripts`` (this program's own by default), named by their files."""
    known = Migrations(SET_NAME)
    for script in sorted((scripts or folder()).glob("[0-9][0-9][0-9][0-9]_*.sql")):
        _register(known, script)
    return known


def _register(known: Migrations, script: Path) -> None:
    @known(name=script.stem)
    def migrate(db: Database) -> None:
        # Statement by statement: executescript would commit the transaction that makes the migration all or nothing.
        for statement in statements(script.read_text(encoding="utf-8")):
            db.conn.execute(statement)


def statements(script: str) -> Iterator[str]:
    """The SQL statements of a script, one at a time.

    >>> list(statements("CREATE TABLE a (b); -- a comment\\nDROP TABLE a;"))
    ['CREATE TABLE a (b);', '-- a comment\\nDROP TABLE a;']
    """
    pending = ""
    for piece in script.split(";"):
        pending += piece + ";"
        if sqlite3.complete_statement(pending):
            if pending.strip(" \n;"):
                yield pending.strip()
            pending = ""


def unknown(db: Database, known: Migrations) -> list[str]:
    """Migrations that the file has and this program does not know: it was written by a newer program."""
    names = {migration.name for migration in known._migrations}
    return [applied.name for applied in known.applied(db) if applied.name not in names]
