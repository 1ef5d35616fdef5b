"""A second logbook's records brought into this one: a summary first, then all or nothing; what was changed apart is decided."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import msgspec

from logbook.records import KINDS, Judgement, Picture, Print, Record, kind_of
from logbook.records.declared import fields_of
from logbook.records.numbering import as_integer
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.records.wording import counted, print_number
from logbook.store import Store, StoreRefused, conflicts, merging, open_store, reading
from logbook.store.conflicts import Conflict
from logbook.store.copying import copy_database
from logbook.store.journal import Entry
from logbook.store.references import users_in_words

MOST_SHOWN = 20
LONGEST_VALUE = 60


class Question(msgspec.Struct, frozen=True):
    """Something changed in logbooks worked apart: of which record, what of it, and what it says on either side.

    ``choices`` are (value, its words), the one that is shown meanwhile first.
    """

    conflict: Conflict
    record: str
    field: str
    choices: tuple[tuple[str, str], ...]

    def __str__(self) -> str:
        return f"{self.record}, {self.field}: {' or '.join(words for _, words in self.choices)}"


@contextmanager
def other_logbook(store: Store, path: Path) -> Iterator[Store]:
    """The other logbook, open on a copy: its own file is not even migrated."""
    if not path.is_file():
        raise Refused("", f"{path} does not exist")
    if path.samefile(store.path):
        raise Refused("", f"{path} is this logbook itself")
    with TemporaryDirectory() as folder, open_store(path, create=False, migrate=False) as there:
        copy = copy_database(there.connection, Path(folder) / "other.db")
        with open_store(copy) as opened:
            yield opened


def summary(merge: merging.Merge, store: Store, other: Store, name: str) -> list[str]:
    """What a merge does, a line each."""
    if merge.is_nothing:
        return [f"{plain(name)} holds nothing that is not here already"]
    lines = [
        f"{label}: {users_in_words(counts)}"
        for label, counts in (
            ("New here", merge.added),
            ("Changed there since", merge.changed),
            ("Deleted there since", merge.deleted),
        )
        if counts
    ]
    if not lines:
        lines.append(f"{plain(name)} has seen what was changed here; no record changes")
    lines += [f"Two prints bear {_listed(print_number(number) for number in merge.numbers_twice)}"] if merge.numbers_twice else []
    for picture, size, number in merge.editions_twice:
        of = f" of {size}" if size is not None else ""
        lines.append(f"Two prints of {_title(store, other, picture)} are number {number}{of} of its edition; correct one of them")
    if merge.conflicts:
        lines.append(f"{counted(len(merge.conflicts), 'thing')} changed on both sides; the first is shown until you decide:")
        lines += [f"  {_question(one, store, other)}" for one in merge.conflicts[:MOST_SHOWN]]
        lines += [f"  and {len(merge.conflicts) - MOST_SHOWN} more"] if len(merge.conflicts) > MOST_SHOWN else []
    return lines


def bring_in(store: Store, other: Store, merge: merging.Merge, name: str) -> Entry | None:
    """Do what ``logbook.store.merging.plan`` found; None where no record changes."""
    return None if merge.is_nothing else merging.apply(store, other, merge, f"Merged {plain(name)}")


def questions(store: Store) -> list[Question]:
    """Everything that was changed in logbooks worked apart and waits for a decision."""
    return [_question(one, store) for one in conflicts.waiting(store)]


def decide(store: Store, question: Question, value: str) -> Entry:
    """Keep one of the values; undo brings the question back."""
    words = dict(question.choices)[value]
    try:
        return conflicts.decide(store, question.conflict, value, f"Decided: {question.record}, {question.field}: {words}")
    except StoreRefused as refused:
        raise Refused("", str(refused)) from refused


def _question(conflict: Conflict, *stores: Store) -> Question:
    record = next((found for store in stores if (found := reading.get(store, KINDS[conflict.kind], conflict.id))), None)
    called = _called(record, stores) if record is not None else f"{conflict.kind} {plain(conflict.id)}"
    if not conflict.field:
        return Question(conflict, called, "deleted or changed", (("true", "keep it"), ("false", "delete it")))
    choices = tuple((value, _in_words(value)) for value in conflict.values)
    return Question(conflict, called, _field(conflict), choices)


def _field(conflict: Conflict) -> str:
    known = fields_of(KINDS[conflict.kind])
    names = conflict.field.removeprefix("settings.").split("+")
    return " and ".join(known[name].label if name in known else plain(name).replace("_", " ") for name in names)


def _in_words(value: str) -> str:
    said = _said(msgspec.json.decode(value))
    return said if len(said) <= LONGEST_VALUE else f"{said[: LONGEST_VALUE - 1]}…"


def _said(value: Any) -> str:
    match value:
        case None:
            return "nothing"
        case bool():
            return "yes" if value else "no"
        case str():
            return f"“{plain(value)}”"
        case list():
            return " and ".join(map(_said, value))
        case dict():
            return ", ".join(f"{plain(str(key))} {_said(one)}" for key, one in value.items())
        case _:
            return f"{value:g}"


def _called(record: Record, stores: tuple[Store, ...]) -> str:
    if isinstance(record, Judgement):
        known = next((found for store in stores if (found := reading.get(store, Print, record.print))), None)
        return f"judgement of {_called(known, stores)}" if known is not None else "judgement"
    if isinstance(record, Print):
        number = print_number(as_integer(record.number)) if record.number is not None else "a print"
        return f"{number} {_title(*stores, record.picture)}"
    name = getattr(record, "name", None) or getattr(record, "title", None)
    return f"{kind_of(record)} {plain(name or record.id)}"


def _title(*asked: Any) -> str:
    *stores, picture = asked
    found = next((known for store in stores if (known := reading.get(store, Picture, picture))), None)
    return plain(found.title if found is not None else picture)


def _listed(words: Iterator[str]) -> str:
    found = list(words)
    return ", ".join(found[:MOST_SHOWN]) + (f" and {len(found) - MOST_SHOWN} more" if len(found) > MOST_SHOWN else "")
