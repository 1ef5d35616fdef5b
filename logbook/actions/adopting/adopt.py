"""Looking at a person's own table beside the logbook, and adding it: one entry, which one undo takes back."""

from datetime import date
from pathlib import Path

import msgspec

from logbook.actions.adopting import columns, grid, known
from logbook.actions.adopting.grid import Grid
from logbook.actions.adopting.plan import Answers, Plan, plan
from logbook.actions.adopting.text import question_text
from logbook.records import Record
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import counted
from logbook.store import Store, bulk, journal, preferences
from logbook.store.journal import Entry

_KEPT = "answers for tables"  # among the preferences, by the headings of the table


class Adoption(msgspec.Struct, frozen=True):
    """A table as it would come in: what the person is shown, and the records behind it, made at one position of the journal."""

    name: str
    grid: Grid
    answers: Answers
    plan: Plan
    records: list[Record]
    position: tuple[int, int]


def look(store: Store, path: Path, answers: Answers, today: date, sheet: str | None = None) -> Adoption:
    """Read a table; nothing is changed. What ``answers`` leaves open is answered as for the last table with these headings."""
    read = grid.read(path, sheet)
    kept = preferences.read(store, _KEPT, {}).get(_headings(read))
    return again(store, path.name, read, _joined(msgspec.convert(kept or {}, Answers), answers), today)


def again(store: Store, name: str, read: Grid, answers: Answers, today: date) -> Adoption:
    """The same table with other answers."""
    position = journal.position(store)
    planned, records = plan(read, known.of_logbook(store), answers, today)
    return Adoption(name, read, answers, planned, records, position)


def add(store: Store, adoption: Adoption) -> Entry | None:
    """Add what was looked at; None where all of it is there already. The answers are kept for when the table has grown."""
    needed = next((question for question in adoption.plan.questions if question.needed), None)
    if needed is not None:
        where = f"column '{plain(needed.column)}', " if needed.column else ""
        raise Refused("", f"{plain(adoption.name)}: {where}{plain(question_text(needed))}")
    with store.writing():
        if journal.position(store) != adoption.position:
            raise Refused("", "another program changed the logbook meanwhile; nothing was added, try again")
        kept = preferences.read(store, _KEPT, {})
        preferences.write(store, _KEPT, {**kept, _headings(adoption.grid): msgspec.to_builtins(adoption.answers)})
        if not adoption.records:
            return None
        prints = counted(adoption.plan.added.get("print", 0), "print")
        return bulk.add(store, f"Adopted {prints} from {plain(adoption.name)}", adoption.records)


def _headings(read: Grid) -> str:
    return known.derived_id(*columns.headings_of(read))


def _joined(kept: Answers, said: Answers) -> Answers:
    return Answers(
        {**kept.columns, **said.columns},
        {**kept.words, **said.words},
        {**kept.otherwise, **said.otherwise},
        kept.attempts or said.attempts,
    )
