"""What every form of the shelf does with what was typed: a record made of it, and that record saved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from logbook.records import Record
    from logbook.store import Store
    from logbook.store.journal import Entry
    from logbook.tui.widgets.fields.picker import New


def put(record: Record, along: Sequence[Record] = ()) -> Callable[[Store], Entry]:
    """The action that saves a record of the shelf, with the records that new names in it make."""
    return partial(_put, record=record, along=along)


def _put(store: Store, record: Record, along: Sequence[Record]) -> Entry:
    from logbook.actions import shelf

    return shelf.put(store, record, along=along)


def light_named(value: str | New | None) -> tuple[str | None, list[Record]]:
    """The id of the light in a picker; a new name makes a light with nothing else known of it yet."""
    if value is None or isinstance(value, str):
        return value, []
    from logbook.records import Light, new_id

    light = Light(id=new_id(), name=value.name)
    return light.id, [light]


def described(make: Callable[[], Record]) -> Record:
    """The record, or ``Refused`` naming the field that is wrong."""
    from logbook.actions.writing import made

    return made(make)
