"""What stands on the shelf: papers, lights, screens, the printer, bench times, wedge readings."""

from collections.abc import Sequence

from logbook.actions.writing import write
from logbook.records import Bench, Gauge, Light, Paper, Printer, Record, Screen, Stock, Wedge, kind_of
from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.store import Store, reading
from logbook.store.journal import Entry

NAMED: tuple[type[Record], ...] = (Printer, Paper, Light, Screen)


def name_of(record: Record) -> str:
    """What a record is called: its name or its title, else its kind.

    >>> name_of(Light(id="1", name="window wall"))
    'window wall'
    """
    return plain(str(getattr(record, "name", None) or getattr(record, "title", None) or kind_of(record)))


def put(store: Store, record: Record, along: Sequence[Record] = ()) -> Entry:
    """Add a record or save it edited, with new ones that it refers to.

    Two of a kind may not have the same name: one could not tell them apart.
    """
    there = reading.get(store, type(record), record.id)
    if isinstance(record, NAMED) and name_of(record) != (there and name_of(there)):
        _refuse_same_name(store, record)
    return write(store, f"{_called(store, record)} {'changed' if there else 'noted'}", save=[*along, record])


def remove(store: Store, kind: type[Record], record_id: str) -> Entry:
    """Take a record away; refused, with the count, while others use it."""
    record = reading.get(store, kind, record_id)
    if record is None:
        raise Refused("", f"this {kind_of(kind)} is not there any more")
    return write(store, f"{_called(store, record)} removed", delete=[record])


def named(store: Store, kind: type[Record], name: str) -> Record | None:
    """The record of a kind that has this name or title, capitals and spaces aside."""
    wanted = _plainly(name)
    return next((record for record in reading.every(store, kind) if _plainly(name_of(record)) == wanted), None)


def _refuse_same_name(store: Store, record: Record) -> None:
    if not name_of(record).strip() or not getattr(record, "name", "").strip():
        raise Refused("name", "must not be empty")
    other = named(store, type(record), name_of(record))
    if other is not None and other.id != record.id:
        raise Refused("name", f"there is a {kind_of(record)} called {name_of(other)} already")


def _called(store: Store, record: Record) -> str:
    if isinstance(record, Bench):
        return "Bench times"
    if isinstance(record, Gauge):
        return "Levels"
    if isinstance(record, Wedge | Stock):
        paper = reading.get(store, Paper, record.paper)
        word = "Wedge reading" if isinstance(record, Wedge) else "Stock"
        return f"{word} of {plain(paper.name)}" if paper else word
    word = kind_of(record).capitalize()
    return word if name_of(record) == kind_of(record) else f"{word} {name_of(record)}"


def _plainly(name: str) -> str:
    return " ".join(name.casefold().split())
