"""What every form of the shelf does with what was typed: a record made of it, and that record saved."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from logbook.records import Record
    from logbook.store import Store
    from logbook.store.journal import Entry


def put(record: Record) -> Callable[[Store], Entry]:
    """The action that saves a record of the shelf."""
    return partial(_put, record=record)


def _put(store: Store, record: Record) -> Entry:
    from logbook.actions import shelf

    return shelf.put(store, record)


def described(make: Callable[[], Record]) -> Record:
    """The record, or ``Refused`` naming the field that is wrong."""
    from logbook.actions.writing import made

    return made(make)
