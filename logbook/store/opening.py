"""Opening a logbook file: made where it is missing, migrated where it is older, refused where it is newer."""

import os
import shutil
import sqlite3
import time
from collections.abc import Iterator
from contextlib import closing, contextmanager, suppress
from pathlib import Path
from tempfile import mkdtemp
from types import TracebackType
from typing import Any

from logbook.records.long_work import still_asked
from logbook.records.text import plain
from logbook.store import completing, migrating
from logbook.store.copying import WAIT_SECONDS, copy_database
from logbook.store.migrating import Migrations
from logbook.store.refusals import Gone, StoreRefused, Unwritable, in_plain_words, in_use

APPLICATION_ID = 0x4C6F6762  # "Logb", in the file's header
SECONDS_BETWEEN_TRIES = 0.02
COPIES_TRIED = 5
STEPS_BETWEEN_LOOKS = 100_000  # of SQLite's machine, some milliseconds: whether anybody still waits for the answer

_PRAGMAS: tuple[str, ...] = (
    "PRAGMA synchronous = FULL",
    "PRAGMA foreign_keys = ON",
    "PRAGMA temp_store = MEMORY",
    "PRAGMA cell_size_check = ON",
)


class Store:
    """One open logbook file. It belongs to the thread that opened it."""

    def __init__(self, path: Path, connection: sqlite3.Connection, copy: Path | None = None) -> None:
        self.path = path
        self.connection = connection  # in autocommit mode: transactions are explicit
        self.only_to_read = copy is not None  # it lies where nothing can be written, and a copy of it is open
        self._place = (copy or path).absolute()
        self._file = _identity(self._place)
        self._beside = self._what_lies_beside()
        self._taken_away = False
        self.warning = ""  # what happened to the file while it was open, to be said with the next save
        self.kept: Any = None  # what was read of it and worked out from that, held here by the snapshots

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """One transaction, all or nothing; within another it is part of that one.

        Raises ``InUse`` or ``Unwritable`` with nothing changed.
        """
        if self.connection.in_transaction:
            yield self.connection
            return
        if self.only_to_read:
            raise Unwritable(f"the logbook lies where nothing can be written; nothing was saved ({self.path})")
        with in_plain_words(self.path):
            self._check_place()
            self._keep_beside()
            self.connection.execute("BEGIN IMMEDIATE")
            try:
                self._check_place()
                yield self.connection
                self.connection.execute("COMMIT")
            except BaseException:
                if self.connection.in_transaction:
                    self.connection.execute("ROLLBACK")
                raise
            if self._taken_away:
                self._bring_into_the_file()

    @contextmanager
    def one_moment(self) -> Iterator[bool]:
        """What is read within is the file at one moment, whatever other programs write; whether that moment is a new one."""
        if self.connection.in_transaction:
            yield False
            return
        self.connection.execute("BEGIN")
        try:
            yield True
        finally:
            self.connection.execute("COMMIT")

    def _check_place(self) -> None:
        """A file that was moved, deleted or replaced while open would still take writes, and nobody would find them again."""
        if _identity(self._place) != self._file:
            raise Gone(f"the file was moved, replaced or taken away; nothing more is saved until it is back ({self.path})")

    def _what_lies_beside(self) -> tuple[object, ...]:
        return tuple(_identity(self._place.with_name(self._place.name + suffix)) for suffix in ("-wal", "-shm"))

    def _keep_beside(self) -> None:
        """What was saved last lies in the -wal beside the file. Where somebody took that away it is still open here: a copy of
        everything is made, and from then on each save is brought into the file at once, while nobody else writes another."""
        if self._what_lies_beside() == self._beside:
            return
        wal = self._place.with_name(f"{self._place.name}-wal")
        apart = self._place.with_name(f"{self._place.stem}-saved-apart.db")
        if not self._taken_away:
            copy_database(self.connection, apart)
            self._taken_away = True
            self.warning = f"{wal.name} was taken away while the logbook was open; nothing is lost, and {apart.name} is a copy"
        if _identity(wal) not in (None, self._beside[0]) and wal.stat().st_size:
            raise Gone(f"another program writes a new {wal.name}; nothing was saved; merge {apart.name} into it ({self.path})")
        self._bring_into_the_file()

    def _bring_into_the_file(self) -> None:
        self.connection.execute("PRAGMA wal_checkpoint(PASSIVE)")

    def wait_at_most(self, seconds: float) -> None:
        """Wait so long for what another program is writing, and no longer; then it is ``InUse``."""
        self.connection.execute(f"PRAGMA busy_timeout = {int(seconds * 1000)}")

    def version(self) -> int:
        """A number that moves whenever another connection has changed the file (SQLite's data_version).

        Raises ``Gone`` where the file is no longer at its path.
        """
        self._check_place()
        self._keep_beside()
        (version,) = self.connection.execute("PRAGMA data_version").fetchone()
        return int(version)

    def close(self) -> None:
        """Close the file; what was saved stays."""
        self.connection.close()
        if self.only_to_read:
            shutil.rmtree(self._place.parent, ignore_errors=True)

    def __enter__(self) -> "Store":
        return self

    def __exit__(self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None) -> None:
        self.close()


def open_store(path: Path | str, *, create: bool = True, migrate: bool = True, known: Migrations | None = None) -> Store:
    """Open the logbook at ``path``, owner-readable only, with every promise about durability switched on.

    One that lies where nothing can be written is read in a copy, brought up to date there. Without ``migrate`` the file is
    opened for reading, in whatever shape it is.

    Raises ``StoreRefused`` where the file is missing (without ``create``), no logbook, newer than this program or damaged.
    """
    path = Path(path)
    known = known or migrating.migrations()
    with in_plain_words(path):
        _make_file(path, create)
        copy = _copied(path) if _only_to_read(path) else None
        try:
            return Store(path, _opened(path, copy or path, migrate, known), copy)
        except BaseException:
            if copy is not None:
                shutil.rmtree(copy.parent)
            raise


def _opened(path: Path, file: Path, migrate: bool, known: Migrations) -> sqlite3.Connection:
    connection = _connect(file)
    try:
        _recognise(path, connection, known)
        if migrate:
            _set_up(connection)
            _migrate(file, connection, known)
        else:
            connection.execute("PRAGMA query_only = ON")
    except BaseException:
        connection.close()
        raise
    return connection


@contextmanager
def read_raw(path: Path) -> Iterator[sqlite3.Connection]:
    """A connection that reads the file and recognises nothing, for what looks at damage; the file is not changed in any way."""
    copy = _copied(path) if _only_to_read(path) else None
    try:
        with closing(
            sqlite3.connect(f"{(copy or path).absolute().as_uri()}?mode=ro", uri=True, isolation_level=None)
        ) as connection:
            connection.text_factory = lambda text: text.decode(errors="replace")
            yield connection
    finally:
        if copy is not None:
            shutil.rmtree(copy.parent)


def _only_to_read(path: Path) -> bool:
    """SQLite writes beside the file, even where it only reads."""
    return not (os.access(path, os.W_OK) and os.access(path.parent, os.W_OK))


def _copied(path: Path) -> Path:
    """A copy of the file, and of what was saved last beside it, in a folder of its own, all of one moment."""
    copy = Path(mkdtemp()) / path.name
    files = [path, path.with_name(f"{path.name}-wal")]
    for _ in range(COPIES_TRIED):
        seen = [_as_written(file) for file in files]
        for file in files:
            target = copy.with_name(file.name)
            target.unlink(missing_ok=True)
            with suppress(FileNotFoundError):
                shutil.copyfile(file, target)
        if seen == [_as_written(file) for file in files]:
            return copy
    shutil.rmtree(copy.parent)
    raise in_use(path)


def _as_written(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except FileNotFoundError:
        return None
    return found.st_size, found.st_mtime_ns


def _identity(path: Path) -> tuple[int, int] | None:
    try:
        found = path.stat()
    except OSError:
        return None
    return found.st_dev, found.st_ino


def _make_file(path: Path, create: bool) -> None:
    if path.is_dir():
        raise StoreRefused(f"{path} is a folder, not a logbook")
    if path.exists() and not path.is_file():
        raise StoreRefused(f"{path} is a device, not a logbook; it was left as it is")
    if not path.exists():
        if not create:
            raise StoreRefused(f"{path} does not exist")
        if path.with_name(f"{path.name}-wal").exists():  # SQLite would delete it, and with it what was saved last
            raise StoreRefused(
                f"{path} is gone, but its {path.name}-wal is there; `logbook restore` brings a backup back and keeps it"
            )
        path.parent.mkdir(parents=True, exist_ok=True)
        os.close(os.open(path, os.O_CREAT | os.O_RDWR, 0o600))  # its -wal and -shm take the same mode
    elif path.stat().st_mode & 0o077 and os.access(path, os.W_OK):
        with suppress(PermissionError):  # somebody else's file: its owner's program does it
            path.chmod(0o600)


def _connect(path: Path) -> sqlite3.Connection:
    connection = sqlite3.connect(path, isolation_level=None, timeout=WAIT_SECONDS)
    connection.execute(f"PRAGMA busy_timeout = {int(WAIT_SECONDS * 1000)}")
    connection.set_progress_handler(lambda: not still_asked(), STEPS_BETWEEN_LOOKS)
    return connection


def _set_up(connection: sqlite3.Connection) -> None:
    _write_ahead(connection)
    for pragma in _PRAGMAS:
        connection.execute(pragma)


def _write_ahead(connection: sqlite3.Connection) -> None:
    """Journal ahead; where several programs make a file at once, SQLite refuses this without the wait it was asked for."""
    until = time.monotonic() + WAIT_SECONDS
    while True:
        try:
            connection.execute("PRAGMA journal_mode = WAL")
        except sqlite3.OperationalError as error:
            if error.sqlite_errorcode != sqlite3.SQLITE_BUSY or time.monotonic() > until:
                raise
            time.sleep(SECONDS_BETWEEN_TRIES)
        else:
            return


def _recognise(path: Path, connection: sqlite3.Connection, known: Migrations) -> None:
    connection.execute("BEGIN")  # all seen at one moment: another program may be making the file just now
    (application,) = connection.execute("PRAGMA application_id").fetchone()
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    newer = known.unknown(connection) if tables else []
    foreign = connection.execute("SELECT type, name FROM sqlite_master WHERE type IN ('view', 'trigger') LIMIT 1").fetchone()
    connection.execute("COMMIT")
    if tables and application != APPLICATION_ID:
        raise StoreRefused(f"{path} is a database, but not a logbook; it was left as it is")
    if foreign is not None:  # it would run what somebody else wrote, without end perhaps
        raise StoreRefused(
            f"{path} came with a {foreign[0]} {plain(foreign[1])!r}, which is not of our making; it was left as it is"
        )
    if newer:
        raise StoreRefused(f"{path} was written by a newer program (it has {newer[-1]}); it was left as it is")


def _migrate(path: Path, connection: sqlite3.Connection, known: Migrations) -> None:
    if not known.pending(connection):
        return
    connection.execute("BEGIN IMMEDIATE")  # of programs that open an old file at once, one migrates and the others wait
    try:
        pending = known.pending(connection)
        if pending and migrating.applied(connection):
            with closing(_connect(path)) as reader:  # SQLite copies nothing for a connection that is writing
                copy_database(reader, path.with_name(f"{path.name}.before-{pending[0]}"))
        connection.execute(f"PRAGMA application_id = {APPLICATION_ID}")
        known.apply(connection)
        if pending:
            completing.complete(connection)
        connection.execute("COMMIT")
    except BaseException:
        connection.execute("ROLLBACK")
        raise
