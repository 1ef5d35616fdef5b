"""Saving, one confirmed entry at a time."""

from pathlib import Path

from logbook.actions import judging
from logbook.records import Judgement, Light, Print
from logbook.store import Store, drafts, journal, open_store, reading
from tests.bench.faults.checks import NAME, Confirm, sane
from tests.studio import one_more, sheet

ENTRIES_BEFORE = 3  # the studio and its two prints


def log(store: Store, confirm: Confirm) -> None:
    for _ in range(3):
        confirm(one_more(store).print.id)


def judge(store: Store, confirm: Confirm) -> None:
    for darkness in (-1, -2, -3):
        confirm(judging.judge(store, "second", darkness=darkness, verdict="redo", note="too dark").judgement.id)


def note_lights(store: Store, confirm: Confirm) -> None:
    for number in range(3):
        journal.write(store, "A light", save=[Light(id=f"light-{number}", name="bench", illuminance_lx=500)])
        confirm(f"light-{number}")


def each_confirmed(kind: type[Print | Judgement | Light], before: int, folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        there = reading.ids(store, kind)
        faults = [f"{id} was confirmed and is gone" for id in confirmed if id not in there]
        extra = len(there) - before - len(confirmed)
        if not 0 <= extra <= 1:  # one may have been saved without living to say so
            faults.append(f"{extra} more than were confirmed")
        if len(journal.entries(store)) != ENTRIES_BEFORE + len(there) - before:
            faults.append("the journal and the records disagree")
    return faults + sane(folder)


def step(store: Store, confirm: Confirm) -> None:
    journal.undo(store)
    confirm("undone")
    journal.redo(store)
    confirm("redone")
    journal.write(store, "Deleted", delete=[sheet("second", hours=1)])
    confirm("deleted")


def stepped(folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        there = reading.get(store, Print, "second") is not None
    expected = [{True, False}, {False, True}, {True, False}, {False}][len(confirmed)]
    faults = [] if there in expected else [f"the print is {'there' if there else 'gone'} after {confirmed}"]
    return faults + sane(folder)


def keep_draft(store: Store, confirm: Confirm) -> None:
    for number in range(4):
        drafts.write(store, "print", {"note": f"{number} half filled"})
        confirm(str(number))


def draft_kept(folder: Path, confirmed: list[str]) -> list[str]:
    with open_store(folder / NAME) as store:
        kept = drafts.read(store, "print")
    number = -1 if kept is None else int(kept["note"].split()[0])
    faults = [] if number in (len(confirmed) - 1, len(confirmed)) else [f"draft {number} after {confirmed}"]
    return faults + sane(folder)
