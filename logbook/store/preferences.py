"""Small choices kept with the logbook, such as the days away from the bench. They are no records and are not exported."""

from typing import Any

import msgspec

from logbook.store.opening import Store


def read(store: Store, key: str, default: Any = None) -> Any:
    """The value kept under ``key`` as plain data, or ``default``."""
    row = store.connection.execute("SELECT value FROM preference WHERE key = ?", [key]).fetchone()
    return default if row is None else msgspec.json.decode(row[0])


def write(store: Store, key: str, value: Any) -> None:
    """Keep ``value`` (plain data) under ``key``; None takes it away."""
    with store.writing() as connection:
        if value is None:
            connection.execute("DELETE FROM preference WHERE key = ?", [key])
        else:
            connection.execute("REPLACE INTO preference (key, value) VALUES (?, ?)", [key, msgspec.json.encode(value).decode()])


def everything(store: Store) -> tuple[tuple[str, str], ...]:
    """All of them as they stand, to see whether any has changed."""
    return tuple(store.connection.execute("SELECT key, value FROM preference ORDER BY key"))
