"""Keeping what was read off a printed wedge."""

from typing import get_args

import msgspec

from logbook.actions.writing import write
from logbook.picture.sheet_code import Sheet
from logbook.records import Paper, Wedge
from logbook.records.fields import Intent
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.snapshot.clock import now
from logbook.store import Store, reading
from logbook.store.journal import Entry

_INTENTS: dict[str, Intent] = {intent: intent for intent in get_args(Intent)}


def wedge_with_id(store: Store, wedge_id: str) -> Wedge:
    """The wedge of that id; ``Refused`` where there is none."""
    found = reading.get(store, Wedge, wedge_id)
    if found is None:
        raise Refused("wedge", f"there is no {plain(wedge_id)!r} in the logbook; note the wedge first")
    return found


def keep_first_step(store: Store, wedge: Wedge, first_step: int | None) -> Entry | None:
    """Writes the first step that stands apart into the wedge's record; None where it says so already."""
    first_step = _some_step(first_step)
    if wedge.first_step == first_step:
        return None
    paper = reading.get(store, Paper, wedge.paper)
    of = f" of {plain(paper.name)}" if paper else ""
    return write(store, f"Wedge reading{of} changed", save=[msgspec.structs.replace(wedge, first_step=first_step)])


def keep_measured(store: Store, sheet: Sheet | None, first_step: int | None) -> Entry | None:
    """Notes what was measured as the wedge that its code names: in its record, or as a new one; None where it says so already."""
    if sheet is None or sheet.kind != "wedge":
        raise Refused("wedge", "the code on this sheet can't be read; say which wedge it is with --wedge ID")
    first_step = _some_step(first_step)
    known = reading.get(store, Wedge, sheet.id)
    if known is not None:
        return keep_first_step(store, known, first_step)
    papers = [paper for paper in reading.every(store, Paper) if sheet.paper in (paper.id, paper.name)]
    if len(papers) != 1:
        raise Refused("paper", f"the sheet's paper, {plain(sheet.paper or 'not named')!r}, is not one in the logbook")
    wedge = Wedge(
        id=sheet.id, paper=papers[0].id, at=now(), first_step=first_step, space=sheet.space,
        intent=_INTENTS.get(sheet.intent or ""), black_point_compensation=sheet.compensated,
    )  # fmt: skip
    return write(store, f"Wedge of {plain(papers[0].name)} measured", save=[wedge])


def _some_step(first_step: int | None) -> int:
    if first_step is None:
        raise Refused("first_step", "no dark step stands apart from black on this print, so there is none to note")
    return first_step
