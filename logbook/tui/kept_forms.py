"""Half-filled forms: what is read, kept and forgotten of them on the store's thread."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from logbook.store import Store


def kept(name: str) -> Callable[[Store], dict[str, Any] | None]:
    """What was filled into the form of that name when it was left."""

    def read(store: Store) -> dict[str, Any] | None:
        from logbook.store import drafts

        return drafts.read(store, name)

    return read


def keeping(name: str, fields: dict[str, Any]) -> Callable[[Store], None]:
    """Keep what is filled in."""

    def keep(store: Store) -> None:
        from logbook.store import drafts

        drafts.write(store, name, fields)

    return keep


def forgetting(name: str) -> Callable[[Store], None]:
    """Forget it: the form was saved or given up."""

    def forget(store: Store) -> None:
        from logbook.store import drafts

        drafts.clear(store, name)

    return forget
