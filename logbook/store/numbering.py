"""Which number the next print bears: never one that was given before, here or on a copy that is worked elsewhere."""

import platform
import secrets
import sqlite3
import uuid
from collections.abc import Iterable, Sequence
from functools import cache
from hashlib import sha256
from pathlib import Path

import msgspec

from logbook.records import Print
from logbook.records.numbering import BLOCK, BLOCKS, as_integer, as_written
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.store.refusals import StoreRefused

_OURS = "SELECT origin, block, computer, place, file FROM home ORDER BY block"


def settle(connection: sqlite3.Connection) -> None:
    """A file that never gave a number is at home where it is, and gives the short ones."""
    if connection.execute("SELECT 1 FROM home").fetchone() is None:
        _move_in(connection, 0)


def next_number(connection: sqlite3.Connection) -> int:
    """The number that the next print will bear."""
    block = _block(connection)
    statement = "SELECT max(number) FROM print_number WHERE number BETWEEN ? AND ?"
    (last,) = connection.execute(statement, _reach(block)).fetchone()
    following = (last if last is not None else block * BLOCK) + 1
    if following // BLOCK != block:
        raise StoreRefused("this logbook has given all the numbers it had; nothing was saved")
    return int(following)


def number_for(connection: sqlite3.Connection, print_id: str, asked: int | str | None) -> int:
    """The number of a print that is being entered: the one it had before, else the one asked for, else the next.

    Raises ``Refused`` where another print was given the one asked for, or the print itself had another.
    """
    had = connection.execute("SELECT number FROM print_number WHERE print = ?", [print_id]).fetchone()
    if had is not None:
        if asked is not None and as_integer(asked) != had[0]:
            raise Refused("number", f"the print bears {as_written(had[0])}, and a number is never changed")
        return int(had[0])
    if asked is None:
        return next_number(connection)
    number = as_integer(asked)
    other = bearer(connection, number)
    if other is not None:
        raise Refused("number", f"{as_written(number)} was given to print {plain(other)!r}")
    return number


def number_all(connection: sqlite3.Connection, prints: Sequence[Print]) -> list[Print]:
    """The prints of an import with their numbers, which are noted as given.

    Those they bear were looked at before: two bear one only where a person said so.
    """
    had = dict(connection.execute("SELECT print, number FROM print_number"))
    taken, following = set(had.values()), 0
    asked = {as_integer(one.number) for one in prints if one.number is not None}
    numbered = []
    for one in prints:
        number = had.get(one.id, as_integer(one.number) if one.number is not None else None)
        if number is None:
            following = following or next_number(connection)
            while following in asked or following in taken:
                following += 1
            number = following
        taken.add(number)
        numbered.append(msgspec.structs.replace(one, number=as_written(number)))
    rows = [(one.id, as_integer(one.number or 0)) for one in numbered]
    connection.executemany("INSERT OR IGNORE INTO print_number (print, number) VALUES (?, ?)", rows)
    return numbered


def bearer(connection: sqlite3.Connection, number: int) -> str | None:
    """The id of a print that was given the number, there still or not."""
    found = connection.execute("SELECT print FROM print_number WHERE number = ? LIMIT 1", [number]).fetchone()
    return None if found is None else str(found[0])


def given(connection: sqlite3.Connection, block: int) -> int:
    """How many numbers of a block were given."""
    (count,) = connection.execute("SELECT count(*) FROM print_number WHERE number BETWEEN ? AND ?", _reach(block)).fetchone()
    return int(count)


def take_over(connection: sqlite3.Connection) -> None:
    """This file goes on with the short numbers: the one that gave them is not used any more."""
    connection.execute(
        "UPDATE home SET computer = ?, place = ?, file = ? WHERE origin = (SELECT origin FROM home ORDER BY block LIMIT 1)",
        _here(connection),
    )


def learn_homes(connection: sqlite3.Connection, other: sqlite3.Connection) -> None:
    """What another logbook's file says of where numbers are given. Of two that gave the same ones, the one with fewer yields."""
    mine = _home(connection)
    theirs = other.execute(_OURS).fetchall()
    connection.executemany(
        "INSERT INTO home VALUES (?, ?, ?, ?, ?) ON CONFLICT (origin) DO UPDATE SET block = excluded.block",
        [home for home in theirs if mine is None or home[0] != mine[0]],
    )
    for origin, block, *_ in theirs if mine is not None else ():
        assert mine is not None
        if block == mine[1] and origin != mine[0]:
            here, there = (given(connection, block), mine[0]), (given(other, block), origin)
            if here < there:
                connection.execute("UPDATE home SET block = ? WHERE origin = ?", [_free_block(connection), mine[0]])
                return


def learn_numbers(connection: sqlite3.Connection, other: sqlite3.Connection, prints: Iterable[Print]) -> None:
    """Every number that another logbook gave; those of ``prints``, which come in, as they bear them."""
    given = other.execute("SELECT print, number FROM print_number").fetchall()
    connection.executemany("INSERT OR IGNORE INTO print_number (print, number) VALUES (?, ?)", given)
    borne = [(one.id, as_integer(one.number)) for one in prints if one.number is not None]
    connection.executemany("INSERT OR REPLACE INTO print_number (print, number) VALUES (?, ?)", borne)


def _block(connection: sqlite3.Connection) -> int:
    home = _home(connection)
    return _move_in(connection, _free_block(connection)) if home is None else int(home[1])


def _home(connection: sqlite3.Connection) -> tuple[str, int] | None:
    """The row of this file, or None in a copy that has not given a number yet."""
    here = _here(connection)
    for origin, block, *known in connection.execute(_OURS).fetchall():
        agreeing = sum(one == other for one, other in zip(here, known, strict=True))
        if agreeing == 2 and connection.in_transaction:
            connection.execute("UPDATE home SET computer = ?, place = ?, file = ? WHERE origin = ?", [*here, origin])
        if agreeing >= 2:
            return origin, block
    return None


def _move_in(connection: sqlite3.Connection, block: int) -> int:
    connection.execute("INSERT INTO home VALUES (?, ?, ?, ?, ?)", [secrets.token_hex(8), block, *_here(connection)])
    return block


def _free_block(connection: sqlite3.Connection) -> int:
    """Drawn by chance, since copies that are worked apart cannot ask one another."""
    taken = {block for (block,) in connection.execute("SELECT block FROM home")}
    return secrets.choice([block for block in range(1, BLOCKS + 1) if block not in taken])


def _reach(block: int) -> tuple[int, int]:
    return block * BLOCK, block * BLOCK + BLOCK - 1


def _here(connection: sqlite3.Connection) -> tuple[str, str, str]:
    """The computer, the place and the file, the first two so that nobody can read them."""
    path = Path(connection.execute("PRAGMA database_list").fetchone()[2])
    found = path.stat()
    return _computer(), _digest(str(path.resolve())), f"{found.st_dev}:{found.st_ino}"


@cache
def _computer() -> str:
    try:
        return _digest(Path("/etc/machine-id").read_text(encoding="ascii").strip())
    except (OSError, UnicodeDecodeError):
        node = uuid.getnode()
        drawn_by_chance = node >> 40 & 1  # RFC 9562, 6.10: no address of a network card bears this bit
        return _digest(platform.node() if drawn_by_chance else str(node))


def _digest(text: str) -> str:
    return sha256(f"print-session-logbook {text}".encode()).hexdigest()[:16]
