"""What a migration cannot say in SQL: a home for the numbers, and a journal that holds every line and is sealed."""

import sqlite3

from logbook.records import KINDS, codec
from logbook.store import journal_steps as steps
from logbook.store import numbering, sealing

_OWED = """SELECT c.entry, c.step, c.kind, c.id, (
        SELECT l.before FROM journal_change AS l WHERE l.kind = c.kind AND l.id = c.id AND l.entry > c.entry
            AND l.before IS NOT NULL ORDER BY l.entry, l.step LIMIT 1)
    FROM journal_change AS c WHERE c.did = 'added' AND c.after IS NULL"""


def complete(connection: sqlite3.Connection) -> None:
    """Bring a file that was just made or migrated up to what this program writes."""
    if not connection.execute("SELECT 1 FROM pragma_table_info('journal_entry') WHERE name = 'seal'").fetchone():
        return  # a file of an earlier version, made so on purpose
    numbering.settle(connection)
    if connection.execute("SELECT 1 FROM journal_entry WHERE seal = '' LIMIT 1").fetchone() is None:
        return
    for entry, step, kind, id, line in connection.execute(_OWED).fetchall():
        said = line or _line_now(connection, kind, id)
        connection.execute("UPDATE journal_change SET after = ? WHERE entry = ? AND step = ?", [said, entry, step])
    sealing.seal_all(connection)


def _line_now(connection: sqlite3.Connection, kind: str, id: str) -> str | None:
    found = steps.find(connection, KINDS[kind], id)
    return None if found is None else codec.encode(found[1])
