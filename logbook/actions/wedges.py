"""Keeping what was read off a printed wedge."""

import msgspec

from logbook.actions.writing import write
from logbook.records import Paper, Wedge
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.store import Store, reading
from logbook.store.journal import Entry


def wedge_with_id(store: Store, wedge_id: str) -> Wedge:
    """The wedge of that id; ``Refused`` where there is none."""
    found = reading.get(store, Wedge, wedge_id)
    if found is None:
        raise Refused("wedge", f"there is no {plain(wedge_id)!r} in the logbook; note the wedge first")
    return found


def keep_first_step(store: Store, wedge: Wedge, first_step: int | None) -> Entry | None:
    """Writes the first step that stands apart into the wedge's record; None where it says so already."""
    if first_step is None:
        raise Refused("first_step", "no dark step stands apart from black on this print, so there is none to note")
    if wedge.first_step == first_step:
        return None
    paper = reading.get(store, Paper, wedge.paper)
    of = f" of {plain(paper.name)}" if paper else ""
    return write(store, f"Wedge reading{of} changed", save=[msgspec.structs.replace(wedge, first_step=first_step)])
