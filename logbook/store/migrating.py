"""The shape of the file: migrations from ``schemas/database``, applied in order, each in one transaction."""

import sqlite3
from collections.abc import Callable, Collection, Iterator
from contextlib import closing
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING

import logbook

if TYPE_CHECKING:
    from sqlite_utils import Database

SET_NAME = "logbook"


@cache
def folder() -> Path:
    """Where the migrations lie: inside an installed package, or beside it in a checkout."""
    package = Path(logbook.__file__).parent
    installed = package / "schemas" / "database"
    return installed if installed.is_dir() else package.parent / "schemas" / "database"


class Migrations:
    """The scripts of one folder by their names, in order; sqlite-utils, slow to import, is called only where one must run."""

    def __init__(self, scripts: Path) -> None:
        found = sorted(scripts.glob("[0-9][0-9][0-9][0-9]_*.sql"))
        self._scripts = {script.stem: script.read_text(encoding="utf-8") for script in found}

    def pending(self, connection: sqlite3.Connection) -> list[str]:
        """Those that the file has not been through."""
        done = applied(connection)
        return [name for name in self._scripts if name not in done]

    def unknown(self, connection: sqlite3.Connection) -> list[str]:
        """Those that the file has and this program does not know: it was written by a newer program."""
        return [name for name in applied(connection) if name not in self._scripts]

    def up_to(self, names: Collection[str]) -> "Migrations":
        """Only those of the names given, as an older program knew them."""
        fewer = Migrations.__new__(Migrations)
        fewer._scripts = {name: script for name, script in self._scripts.items() if name in names}
        return fewer

    def shape(self) -> dict[tuple[str, str], str]:
        """What a file that went through them is made of: (type, name) → the statement that made it."""
        with closing(sqlite3.connect(":memory:", isolation_level=None)) as connection:
            for script in self._scripts.values():
                for statement in statements(script):
                    connection.execute(statement)
            return shape_of(connection)

    def apply(self, connection: sqlite3.Connection) -> None:
        """Run what is pending, within the transaction that is open."""
        from sqlite_utils import Database
        from sqlite_utils import Migrations as Runner

        runner = Runner(SET_NAME)
        for name, script in self._scripts.items():
            runner(name=name)(_run(script))
        runner.apply(Database(connection, recursive_triggers=False, execute_plugins=False))


def migrations(scripts: Path | None = None) -> Migrations:
    """The migrations of ``scripts`` (this program's own by default)."""
    return Migrations(scripts or folder())


def shape_of(connection: sqlite3.Connection) -> dict[tuple[str, str], str]:
    """What a file is made of, but for what sqlite-utils and SQLite itself note in it."""
    rows = connection.execute("SELECT type, name, tbl_name, sql FROM sqlite_master")
    noted = ("_sqlite_migrations", "sqlite_sequence")
    return {
        (type, name): "" if name.startswith("print_words_") else sql  # the full-text index makes these by itself
        for type, name, table, sql in rows
        if type not in ("table", "index") or (table not in noted and sql is not None)
    }


def applied(connection: sqlite3.Connection) -> list[str]:
    """The migrations that a file has been through, as sqlite-utils has noted them."""
    if not connection.execute("SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = '_sqlite_migrations'").fetchone():
        return []
    rows = connection.execute("SELECT name FROM _sqlite_migrations WHERE migration_set = ? ORDER BY id", [SET_NAME])
    return [name for (name,) in rows]


def _run(script: str) -> "Callable[[Database], None]":
    def migrate(db: "Database") -> None:
        # Statement by statement: executescript would commit the transaction that makes the migration all or nothing.
        for statement in statements(script):
            db.conn.execute(statement)

    return migrate


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
