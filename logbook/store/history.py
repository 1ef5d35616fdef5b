"""The history of prints, a page at a time, searched and sorted by the file itself."""

import re
from datetime import UTC, date, datetime, time
from typing import Any, Literal

import msgspec

from logbook.records.paper import USUAL_DRY_HOURS
from logbook.records.settings import Settings
from logbook.store.opening import Store
from logbook.store.rows import instant

Sort = Literal["logged", "time", "title", "paper", "verdict", "darkness"]

AGAIN_DAYS = 7  # later nobody is asked any more to look once again
REACH = 36 * 3_600 * 1_000_000  # the day of any offset lies so near to its noon in UTC

_ORDER = {
    "logged": "l.entered {0}",
    "time": "l.instant {0}, l.entered {0}",
    "title": "l.title {0}, l.entered {0}",
    "paper": "l.paper {0}, l.entered {0}",
    "verdict": "l.verdict {0}, l.entered {0}",
    "darkness": "l.darkness {0}, l.entered {0}",
}

_COLUMNS = """l.number, l.print, p.at, l.title, l.paper, p.width_mm, p.height_mm, l.attempt, l.verdict, l.darkness, l.judged,
    p.purpose, p.settings, b.settings"""


class Line(msgspec.Struct, frozen=True):
    """One print as the list shows it. ``before`` holds the settings of the attempt it follows, else None.

    ``again``: it was judged while it was wet, is dry now, and may be seen again.
    """

    number: int
    id: str
    at: datetime
    title: str
    paper_name: str
    width_mm: float
    height_mm: float
    attempt: int
    verdict: str | None
    darkness: int | None
    judged: bool
    purpose: str
    settings: Settings
    before: Settings | None
    again: bool = False


def page(
    store: Store, words: str = "", sort: Sort = "logged", *, descending: bool = True, offset: int = 0, limit: int = 50
) -> list[Line]:
    """Lines ``offset`` to ``offset + limit`` of the prints that hold every word (as the beginning of one of theirs)."""
    direction = "DESC" if descending else "ASC"
    order = _ORDER[sort].format(direction)
    query = _query(words)
    if query is not None and sort == "logged":  # the full-text index yields its matches by entry, one at a time
        chosen = f"SELECT rowid AS entered FROM print_words WHERE print_words MATCH ? ORDER BY rowid {direction}"
    elif query is not None:
        matching = "SELECT rowid FROM print_words WHERE print_words MATCH ?"
        chosen = f"SELECT l.entered FROM print_line AS l WHERE l.entered IN ({matching}) ORDER BY {order}"
    else:
        chosen = f"SELECT l.entered FROM print_line AS l ORDER BY {order}"
    values = [] if query is None else [query]
    statement = f"""SELECT {_COLUMNS} FROM ({chosen} LIMIT ? OFFSET ?) AS m
        JOIN print_line AS l ON l.entered = m.entered JOIN print AS p ON p.id = l.print
        LEFT JOIN print AS b ON b.id = p.attempt_of ORDER BY {order}"""
    return [_line(row) for row in store.connection.execute(statement, [*values, limit, offset])]


def count(store: Store, words: str = "") -> int:
    """How many prints hold every word."""
    query = _query(words)
    if query is None:
        (number,) = store.connection.execute("SELECT count(*) FROM print_line").fetchone()
    else:
        statement = "SELECT count(*) FROM print_words WHERE print_words MATCH ?"
        (number,) = store.connection.execute(statement, [query]).fetchone()
    return int(number)


def line(store: Store, print_id: str) -> Line | None:
    """The line of one print, or None."""
    return next(iter(_lines(store, "l.print = ?", [print_id])), None)


def of_days(store: Store, first: date, last: date) -> list[Line]:
    """The prints of the days ``first`` to ``last`` (as written in their times), newest first."""
    where = "p.instant BETWEEN :low AND :high AND substr(p.at, 1, 10) BETWEEN :first AND :last"
    low, high = (instant(datetime.combine(day, time(12), UTC)) for day in (first, last))
    values = {"low": low - REACH, "high": high + REACH, "first": first.isoformat(), "last": last.isoformat()}
    return _lines(store, where, values, -1)


def waiting(store: Store, limit: int = 200) -> list[Line]:
    """The prints that nobody has judged yet, newest first."""
    return _lines(store, "l.judged = 0", [], limit)


def seen_wet(store: Store, now: datetime, limit: int = 200) -> list[Line]:
    """The prints of the last days that were judged wet, and kept if anything, and have dried by ``now`` for as long as their
    paper takes; newest first."""
    where = """p.instant BETWEEN :first AND :now AND l.judged = 1 AND p.purpose <> 'strip'
        AND coalesce(l.verdict, 'keep') = 'keep'
        AND (SELECT p.instant + coalesce(a.dry_hours, :usual) * 3600000000 BETWEEN max(j.instant) + 1 AND :now
            AND max(j.hours_dry) < coalesce(a.dry_hours, :usual)
            FROM judgement AS j JOIN paper AS a ON a.id = p.paper WHERE j.print = p.id)"""
    moment = instant(now)
    values = {"now": moment, "first": moment - AGAIN_DAYS * 86_400_000_000, "usual": USUAL_DRY_HOURS}
    return [msgspec.structs.replace(line, again=True) for line in _lines(store, where, values, limit)]


def attempts(store: Store, print_id: str) -> list[Line]:
    """The chain of attempts that a print belongs to, first one first."""
    statement = f"""WITH RECURSIVE back (id, origin) AS (
            SELECT id, attempt_of FROM print WHERE id = ?
            UNION SELECT print.id, print.attempt_of FROM back JOIN print ON print.id = back.origin),
        chain (id) AS (
            SELECT id FROM back UNION SELECT print.id FROM chain JOIN print ON print.attempt_of = chain.id)
        SELECT {_COLUMNS} FROM chain JOIN print AS p ON p.id = chain.id JOIN print_line AS l ON l.print = p.id
        LEFT JOIN print AS b ON b.id = p.attempt_of ORDER BY l.attempt, l.entered"""
    return [_line(row) for row in store.connection.execute(statement, [print_id])]


def _lines(store: Store, where: str, values: Any, limit: int = 1_000) -> list[Line]:
    statement = f"""SELECT {_COLUMNS} FROM print_line AS l JOIN print AS p ON p.id = l.print
        LEFT JOIN print AS b ON b.id = p.attempt_of WHERE {where} ORDER BY l.entered DESC LIMIT {int(limit)}"""
    return [_line(row) for row in store.connection.execute(statement, values)]


_WORD = re.compile(r"#?\w+", re.UNICODE)


def _query(words: str) -> str | None:
    """The full-text query of what was typed: every word, quoted, as a beginning.

    >>> _query('low "sta'), _query(" - ")
    ('"low"* "sta"*', None)
    """
    found = [word for word in _WORD.findall(words.replace("_", " "))[:20] if word != "#"]
    return " ".join(f'"{word}"*' for word in found) or None


def _line(row: tuple[Any, ...]) -> Line:
    fields = dict(zip(Line.__struct_fields__, row, strict=False))
    fields["at"] = datetime.fromisoformat(fields["at"])
    fields["judged"] = bool(fields["judged"])
    fields["settings"] = msgspec.json.decode(fields["settings"])
    fields["before"] = None if fields["before"] is None else msgspec.json.decode(fields["before"])
    return Line(**fields)
