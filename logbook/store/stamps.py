"""What knew what: which change of a field was made in sight of which other, so that logbooks worked apart can become one.

A record's fields merge one by one; those that a limit ties together merge as one. Each change of a record after its making
leaves a row: a name drawn by chance, and a counter above every one known. A row whose value is gone was changed again in
sight of it. This is a multi-value register with dotted versions (Preguiça et al. 2010, arXiv:1011.5808), for each field.
"""

import secrets
import sqlite3
from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import cache
from typing import Any

import msgspec

from logbook.records import KINDS, Record, codec, kind_of

Key = tuple[str, str]  # kind, id
Rows = dict[str, dict[str, tuple[int, str | None]]]  # field -> writer -> (counter, value where the change stands)

THERE = ""  # the field that says whether the record is there
TIED: dict[str, tuple[tuple[str, ...], ...]] = {
    "print": (("edition_number", "edition_size"),),
    "order": (("black", "paper"), ("done", "cancelled")),
    "stock": (("opened", "closed"), ("length_mm", "sheets")),
    "cartridge": (("installed", "removed"),),
    "changeover": (("from", "to"),),
}


def parts(record: Record) -> dict[str, str]:
    """What merges by itself, each part as JSON: a field, fields tied together, one setting."""
    fields = codec.to_mapping(record)
    found = {name: _json([fields.get(one) for one in tied]) for name, tied in _tied(kind_of(record)).items()}
    for name in _single(kind_of(record)):
        if name == "settings":
            found |= {f"settings.{key}": _json(value) for key, value in fields["settings"].items()}
        elif fields.get(name) is not None:
            found[name] = _json(fields[name])
    return found


def whole(kind: str, id: str, found: Mapping[str, str | None]) -> Record:
    """The record of its parts. Raises ``Refused`` where they do not make one."""
    fields: dict[str, Any] = {"kind": kind, "id": id}
    for name, text in found.items():
        value = msgspec.json.decode(text) if text is not None else None
        if name in _tied(kind):
            fields |= dict(zip(_tied(kind)[name], value or [None] * len(_tied(kind)[name]), strict=True))
        elif name.startswith("settings."):
            if value is not None:
                fields.setdefault("settings", {})[name.removeprefix("settings.")] = value
        elif value is not None:
            fields[name] = value
    if kind == "print":
        fields.setdefault("settings", {})
    return codec.from_mapping({name: value for name, value in fields.items() if value is not None})


def note(connection: sqlite3.Connection, changes: Iterable[tuple[str, str, str | None, str | None]]) -> None:
    """Stamp what an entry did, undid or did again: (kind, id, the line before, the line after)."""
    writer, counter = new_writer(), 0
    for kind, id, before, after in changes:
        known = read(connection, kind, id).get((kind, id), {})
        if before is None and not known:  # a record that is new needs no stamps: what it began with is what it says
            continue
        counter = counter or next_counter(connection)
        for field, (old, new) in _moved(kind, before, after, known).items():
            if field not in known and old is not None:
                _put(connection, kind, id, field, {f"={old}": (0, None)})
            connection.execute("UPDATE stamp SET value = NULL WHERE kind = ? AND id = ? AND field = ?", [kind, id, field])
            _put(connection, kind, id, field, {writer: (counter, new)})


def _moved(kind: str, before: str | None, after: str | None, known: Rows) -> dict[str, tuple[str | None, str]]:
    """The parts that a change touched: what they said before and say now. A touched record is there, or it is not."""
    there = {THERE: ("true" if before is not None else None, "true" if after is not None else "false")}
    if after is None:
        return there
    new = parts(codec.decode(after))
    if before is None:  # it comes back: what was stamped before may say something else
        fields = [field for field in known if field != THERE and standing(known[field]) != [new.get(field, "null")]]
        return there | {field: (None, new.get(field, "null")) for field in fields}
    old = parts(codec.decode(before))
    return there | {
        field: (old.get(field, "null"), new.get(field, "null"))
        for field in sorted(old.keys() | new.keys())
        if old.get(field) != new.get(field)
    }


def standing(rows: Mapping[str, tuple[int, str | None]]) -> list[str]:
    """The different values that stand, the one that is shown first: it was changed last by the counters."""
    order = sorted(((counter, writer, value) for writer, (counter, value) in rows.items() if value is not None), reverse=True)
    return list(dict.fromkeys(value for *_, value in order))


def new_writer() -> str:
    """A name for the changes of one entry."""
    return secrets.token_hex(8)


def next_counter(connection: sqlite3.Connection) -> int:
    """One above every counter known (Lamport 1978)."""
    (highest,) = connection.execute("SELECT max(counter) FROM stamp").fetchone()
    return int(highest or 0) + 1


def read(connection: sqlite3.Connection, kind: str | None = None, id: str | None = None) -> dict[Key, Rows]:
    """The stamps of one record, or of all."""
    where, values = ("WHERE kind = ? AND id = ?", [kind, id]) if kind is not None else ("", [])
    found: dict[Key, Rows] = {}
    for one, other, field, writer, counter, value in connection.execute(
        f"SELECT kind, id, field, writer, counter, value FROM stamp {where}", values
    ):
        found.setdefault((one, other), defaultdict(dict))[field][writer] = (counter, value)
    return found


def replace(connection: sqlite3.Connection, stamps: Mapping[Key, Rows]) -> None:
    """These instead of whatever was noted of the records."""
    for (kind, id), rows in stamps.items():
        connection.execute("DELETE FROM stamp WHERE kind = ? AND id = ?", [kind, id])
        for field, written in rows.items():
            _put(connection, kind, id, field, written)


def packed(before: Mapping[Key, Rows], after: Mapping[Key, Rows]) -> str:
    """Both states of the stamps that a merge changed, to be kept with its entry."""
    states = [[[*key, dict(state.get(key, {}))] for key in sorted(before.keys() | after.keys())] for state in (before, after)]
    return msgspec.json.encode(states).decode()


def unpacked(text: str, *, forward: bool) -> dict[Key, Rows]:
    """The state after the merge, or the one before it."""
    state = msgspec.json.decode(text)[1 if forward else 0]
    return {
        (kind, id): {field: {writer: tuple(row) for writer, row in rows.items()} for field, rows in found.items()}
        for kind, id, found in state
    }


def gone(connection: sqlite3.Connection) -> set[Key]:
    """The records of which something is noted although they may be gone."""
    return set(connection.execute("SELECT DISTINCT kind, id FROM stamp WHERE field = ''"))


def _put(
    connection: sqlite3.Connection, kind: str, id: str, field: str, written: Mapping[str, tuple[int, str | None]]
) -> None:  # fmt: skip
    connection.executemany(
        "INSERT OR REPLACE INTO stamp (kind, id, field, writer, counter, value) VALUES (?, ?, ?, ?, ?, ?)",
        [(kind, id, field, writer, counter, value) for writer, (counter, value) in written.items()],
    )


@cache
def _tied(kind: str) -> dict[str, tuple[str, ...]]:
    return {"+".join(tied): tied for tied in TIED.get(kind, ())}


@cache
def _single(kind: str) -> tuple[str, ...]:
    taken = {name for tied in TIED.get(kind, ()) for name in tied}
    names = [field.encode_name for field in msgspec.structs.fields(KINDS[kind])]
    return tuple(name for name in names if name != "id" and name not in taken)


def _json(value: Any) -> str:
    return msgspec.json.encode(value, order="deterministic").decode()
