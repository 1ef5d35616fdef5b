"""Which records refer to which, so that nothing is left pointing at nothing."""

from collections.abc import Iterator
from functools import cache

from logbook.records import KINDS, Record, kind_of
from logbook.records.declared import fields_of
from logbook.records.refusal import Fault
from logbook.store.opening import Store

# (kind, field, the kind it refers to)
REFERENCES: tuple[tuple[str, str, str], ...] = tuple(
    (kind, field.name, field.refers) for kind, record in KINDS.items() for field in fields_of(record).values() if field.refers
)


def of(record: Record) -> Iterator[tuple[str, str, str]]:
    """What a record refers to: (field, kind, id)."""
    for field, referred in _referring(type(record)):
        id = getattr(record, field)
        if id is not None:
            yield field, referred, id


@cache
def _referring(kind: type[Record]) -> tuple[tuple[str, str], ...]:
    return tuple((field, referred) for referring, field, referred in REFERENCES if referring == kind_of(kind))


def missing(store: Store, record: Record) -> list[Fault]:
    """A fault for every reference of ``record`` that the file does not hold."""
    faults = []
    for field, kind, id in of(record):
        if store.connection.execute(f'SELECT 1 FROM "{kind}" WHERE id = ?', [id]).fetchone() is None:
            faults.append(Fault(field, f"there is no {kind} {id!r}"))
    return faults


def users(store: Store, record: Record) -> dict[str, int]:
    """How many records of each kind refer to ``record``."""
    counts: dict[str, int] = {}
    for kind, field, referred in REFERENCES:
        if referred == kind_of(record):
            statement = f'SELECT count(*) FROM "{kind}" WHERE "{field}" = ?'
            (number,) = store.connection.execute(statement, [record.id]).fetchone()
            if number:
                counts[kind] = counts.get(kind, 0) + int(number)
    return counts


def users_in_words(counts: dict[str, int]) -> str:
    """Counts as a phrase.

    >>> users_in_words({"print": 3, "stock": 1}), users_in_words({"paper": 1, "print": 2, "bench": 2})
    ('3 prints and 1 stock', '1 paper, 2 prints and 2 benches')
    """
    *most, last = [f"{number:,} {kind if number == 1 else _plural(kind)}" for kind, number in counts.items()]
    return f"{', '.join(most)} and {last}" if most else last


def _plural(kind: str) -> str:
    return f"{kind}es" if kind.endswith("ch") else f"{kind}s"
