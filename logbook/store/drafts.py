"""Half-filled forms, kept so that they survive a closed terminal."""

from datetime import UTC, datetime
from typing import Any

import msgspec

from logbook.store.opening import Store


def read(store: Store, name: str) -> dict[str, Any] | None:
    """The fields of the form ``name`` as they were left, or None."""
    row = store.connection.execute("SELECT fields FROM draft WHERE name = ?", [name]).fetchone()
    if row is None:
        return None
    fields: dict[str, Any] = msgspec.json.decode(row[0])
    return fields


def write(store: Store, name: str, fields: dict[str, Any]) -> None:
    """Keep the fields of the form ``name``."""
    with store.writing() as connection:
        values = [name, datetime.now(UTC).isoformat(), msgspec.json.encode(fields).decode()]
        connection.execute("REPLACE INTO draft (name, at, fields) VALUES (?, ?, ?)", values)


def clear(store: Store, name: str) -> None:
    """Forget the draft of a form that was saved or given up."""
    with store.writing() as connection:
        connection.execute("DELETE FROM draft WHERE name = ?", [name])
