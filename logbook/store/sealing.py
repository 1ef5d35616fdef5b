"""The journal's seals: each entry's is the digest of what it holds and of the seal before it, so none changes unnoticed."""

import sqlite3
from collections.abc import Iterator
from hashlib import sha256

import msgspec


def seal(connection: sqlite3.Connection, entry: int) -> None:
    """Seal the entry that was just written; what is sealed is not written again."""
    connection.execute("UPDATE journal_entry SET seal = ? WHERE entry = ?", [_seal_of(connection, entry), entry])


def seal_all(connection: sqlite3.Connection) -> None:
    """Seal a journal anew: one that an older program wrote, or that was recovered."""
    for (entry,) in connection.execute("SELECT entry FROM journal_entry ORDER BY entry").fetchall():
        seal(connection, entry)


def broken(connection: sqlite3.Connection) -> Iterator[int]:
    """The entries whose seal does not hold."""
    for entry, kept in connection.execute("SELECT entry, seal FROM journal_entry ORDER BY entry").fetchall():
        if kept != _seal_of(connection, entry):
            yield entry


def _seal_of(connection: sqlite3.Connection, entry: int) -> str:
    before = connection.execute("SELECT seal FROM journal_entry WHERE entry < ? ORDER BY entry DESC LIMIT 1", [entry]).fetchone()
    digest = sha256((before[0] if before is not None else "").encode())
    for statement in (
        "SELECT at, instant, said FROM journal_entry WHERE entry = ?",
        "SELECT kind, id, entered, did, before, after FROM journal_change WHERE entry = ? ORDER BY step",
    ):
        for row in connection.execute(statement, [entry]):
            digest.update(msgspec.json.encode(row))
    return digest.hexdigest()
