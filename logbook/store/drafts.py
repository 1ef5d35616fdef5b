"""Half-filled forms, kept so that they survive a closed terminal; while its window is open a form is that window's own."""

import os
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import msgspec

from logbook.store.opening import Store

HEADING = ""  # the key under which a draft keeps what its form is called
_APART = " @"


def window() -> str:
    """This program, as its drafts name it."""
    return str(os.getpid())


def read(store: Store, name: str) -> dict[str, Any] | None:
    """The fields of the form ``name`` as they were left in this window, or in one that is closed; then they are this one's."""
    rows = store.connection.execute(
        "SELECT name, fields FROM draft WHERE name = ?1 OR substr(name, 1, length(?2)) = ?2 ORDER BY at DESC",
        [name, name + _APART],
    ).fetchall()
    there = {kept: fields for kept, fields in rows if not _is_open_elsewhere(kept)}
    own = _own(name)
    found = own if own in there else next(iter(there), None)
    if found is None:
        return None
    if found != own and not store.only_to_read:
        with store.writing() as connection:
            connection.execute("UPDATE draft SET name = ? WHERE name = ?", [own, found])
    fields: dict[str, Any] = msgspec.json.decode(there[found])
    return fields


def write(store: Store, name: str, fields: dict[str, Any]) -> None:
    """Keep the fields of the form ``name``."""
    with store.writing() as connection:
        values = [_own(name), datetime.now(UTC).isoformat(), msgspec.json.encode(fields).decode()]
        connection.execute("REPLACE INTO draft (name, at, fields) VALUES (?, ?, ?)", values)


def clear(store: Store, name: str) -> None:
    """Forget the draft of a form that was saved or given up in this window."""
    with store.writing() as connection:
        connection.execute("DELETE FROM draft WHERE name = ?", [_own(name)])


def left_behind(store: Store) -> list[str]:
    """What the half-filled forms are called that no open window has, the latest first."""
    rows = store.connection.execute("SELECT name, fields FROM draft ORDER BY at DESC").fetchall()
    return [msgspec.json.decode(fields).get(HEADING) or name for name, fields in rows if not _is_open_elsewhere(name)]


def _own(name: str) -> str:
    return f"{name}{_APART}{window()}"


def _is_open_elsewhere(kept: str) -> bool:
    _, apart, other = kept.rpartition(_APART)
    if not apart or other == window() or not other.isdecimal():
        return False
    with suppress(ProcessLookupError, OverflowError):
        with suppress(PermissionError):
            os.kill(int(other), 0)
        return not _has_ended(other)
    return False


def _has_ended(process: str) -> bool:
    """Whether a process that the system still lists runs no more: nobody has asked yet how it ended."""
    with suppress(OSError):
        return ") Z " in Path(f"/proc/{process}/stat").read_text("utf-8", "replace")
    return False
