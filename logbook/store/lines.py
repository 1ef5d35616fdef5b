"""The history's list: one line a print, kept in the transaction that changes what it shows."""

import sqlite3
from collections.abc import Iterable

from logbook.records.fields import NUMBER_LETTERS
from logbook.records.numbering import BLOCK

# A line says what the print, its picture, its paper and its judgements say together. `words` is what a search finds.
_FIELDS = "entered, number, print, instant, title, paper, attempt, verdict, darkness, judged, words"
_SAYS = """
SELECT p.entered, p.number, p.id, p.instant, c.title, a.name,
    {attempt},
    v.verdict, d.darkness, EXISTS (SELECT 1 FROM judgement AS j WHERE j.print = p.id),
    {number} || c.title || ' ' || a.name || ' ' || coalesce(v.verdict, 'unjudged') || ' '
        || p.purpose || ' ' || coalesce(p.note, '') || ' '
        || coalesce((SELECT group_concat(
                key || ' ' || CASE type WHEN 'true' THEN 'on' WHEN 'false' THEN 'off' ELSE value END, ' ')
            FROM json_each(p.settings)), '') || ' '
        || coalesce((SELECT group_concat(
                coalesce(j.note, '') || ' ' || coalesce(j."cast", '') || ' ' || coalesce(j.flaws, ''), ' ')
            FROM judgement AS j WHERE j.print = p.id), '')
FROM {prints} JOIN picture AS c ON c.id = p.picture
JOIN paper AS a ON a.id = p.paper
LEFT JOIN judgement AS v ON v.entered = (
    SELECT entered FROM judgement WHERE print = p.id AND verdict IS NOT NULL ORDER BY instant DESC, entered DESC LIMIT 1)
LEFT JOIN judgement AS d ON d.entered = (
    SELECT entered FROM judgement WHERE print = p.id AND darkness IS NOT NULL ORDER BY instant DESC, entered DESC LIMIT 1)
"""
_LINES = f"""
INSERT INTO print_line ({_FIELDS})
{_SAYS}
"""
_LETTER = "substr('{letters}', 1 + (p.number / {block} - 1) / {step} % {count}, 1)"
_BLOCK_LETTERS = ", ".join(
    _LETTER.format(letters=NUMBER_LETTERS, block=BLOCK, step=len(NUMBER_LETTERS) ** place, count=len(NUMBER_LETTERS))
    for place in (2, 1, 0)
)
_NUMBER = f"""CASE WHEN p.number < {BLOCK} THEN printf('#%04d %d ', p.number, p.number)
        ELSE printf('#%s%s%s%d ', {_BLOCK_LETTERS}, p.number % {BLOCK}) END"""

_ATTEMPT = """(WITH RECURSIVE back (id, depth) AS (
        SELECT p.attempt_of, 1 UNION ALL
        SELECT print.attempt_of, depth + 1 FROM back JOIN print ON print.id = back.id WHERE depth < 10000)
    SELECT max(depth) FROM back)"""

_TOUCHED = {
    "print": """WITH RECURSIVE later (id) AS (
            SELECT ? UNION SELECT print.id FROM later JOIN print ON print.attempt_of = later.id)
        SELECT id FROM later""",
    "judgement": "SELECT print FROM judgement WHERE id = ?",
    "picture": "SELECT id FROM print WHERE picture = ?",
    "paper": "SELECT id FROM print WHERE paper = ?",
}


def touched(connection: sqlite3.Connection, kind: str, id: str) -> set[str]:
    """The prints whose line shows something of the record."""
    statement = _TOUCHED.get(kind)
    return {found for (found,) in connection.execute(statement, [id])} if statement else set()


def refresh(connection: sqlite3.Connection, prints: Iterable[str]) -> None:
    """Write the lines of ``prints`` anew; those of prints that are gone go too."""
    for id in prints:
        _forget(connection, "print = ?", [id])
        connection.execute("DELETE FROM print_line WHERE print = ?", [id])
        source = "(SELECT * FROM print WHERE id = ?) AS p"
        connection.execute(_LINES.format(prints=source, attempt=_ATTEMPT, number=_NUMBER), [id])
        _learn(connection, "print = ?", [id])


def refresh_many(connection: sqlite3.Connection, prints: Iterable[str]) -> None:
    """As ``refresh``, for the thousands of prints that an import brings."""
    connection.execute("CREATE TEMP TABLE touched_print (id TEXT PRIMARY KEY, attempt INTEGER) WITHOUT ROWID")
    try:
        connection.executemany("INSERT OR IGNORE INTO touched_print VALUES (?, 1)", ((id,) for id in prints))
        _forget(connection, _TOUCHED_LINES, [])
        connection.execute(
            f"UPDATE touched_print SET attempt = (SELECT {_ATTEMPT} FROM print AS p WHERE p.id = touched_print.id) "
            "WHERE id IN (SELECT id FROM print WHERE attempt_of IS NOT NULL)"
        )
        source = "touched_print AS t JOIN print AS p ON p.id = t.id"
        connection.execute(f"DELETE FROM print_line WHERE {_TOUCHED_LINES}")
        connection.execute(_LINES.format(prints=source, attempt="t.attempt", number=_NUMBER))
        _learn(connection, _TOUCHED_LINES, [])
    finally:
        connection.execute("DROP TABLE touched_print")


def differing(connection: sqlite3.Connection) -> list[int]:
    """The numbers of prints whose line says something else than their records do, or which have none."""
    anew = _SAYS.format(prints="print AS p", attempt=_ATTEMPT, number=_NUMBER)
    statement = f"SELECT number FROM (SELECT * FROM ({anew}) EXCEPT SELECT {_FIELDS} FROM print_line) ORDER BY number"
    return [number for (number,) in connection.execute(statement)]


def check_index(connection: sqlite3.Connection) -> None:
    """Hold the full-text index against the lines; raises ``sqlite3.DatabaseError`` where they differ. Writes."""
    connection.execute("INSERT INTO print_words (print_words, rank) VALUES ('integrity-check', 1)")


_TOUCHED_LINES = "print IN (SELECT id FROM touched_print)"


def _forget(connection: sqlite3.Connection, which: str, values: list[str]) -> None:
    """Take lines out of the full-text index, which must be told the words it holds. Triggers would take six times as long."""
    lines = f"SELECT 'delete', entered, words FROM print_line WHERE {which}"
    connection.execute(f"INSERT INTO print_words (print_words, rowid, words) {lines}", values)


def _learn(connection: sqlite3.Connection, which: str, values: list[str]) -> None:
    connection.execute(f"INSERT INTO print_words (rowid, words) SELECT entered, words FROM print_line WHERE {which}", values)
