"""Bringing in another logbook, part by part of each record: whoever saw the other's change has the say, and what was changed
apart stands side by side until somebody decides. In whatever order logbooks are merged, and however often, they end alike."""

from collections import Counter
from collections.abc import Iterable
from typing import Literal

import msgspec

from logbook.records import KINDS, RECORDS, Print, Record, kind_of
from logbook.records.numbering import as_integer
from logbook.store import conflicts, journal, lately, numbering, reading, references, stamps, thumbnails
from logbook.store import journal_steps as steps
from logbook.store.conflicts import Conflict
from logbook.store.opening import Store
from logbook.store.refusals import StoreRefused
from logbook.store.stamps import THERE, Key, Rows

Side = Literal["ours", "theirs"]


class Merge(msgspec.Struct, frozen=True, kw_only=True):
    """What a merge does, before it is done. ``position`` is the journal's when it was planned.

    ``twice`` are the numbers that two prints then bear: running numbers, and those of editions (picture, size, number).
    """

    position: tuple[int, int] = (0, 0)
    save: tuple[Record, ...] = ()
    delete: tuple[Record, ...] = ()
    stamped: dict[Key, Rows] = {}
    conflicts: tuple[Conflict, ...] = ()
    added: dict[str, int] = {}
    changed: dict[str, int] = {}
    deleted: dict[str, int] = {}
    numbers_twice: tuple[int, ...] = ()
    editions_twice: tuple[tuple[str, int | None, int], ...] = ()

    @property
    def is_nothing(self) -> bool:
        """Whether the other logbook holds nothing new."""
        return not (self.save or self.delete or self.stamped)


def plan(store: Store, other: Store, decide: Side | None = None) -> Merge:
    """What would come in from ``other``; ``decide`` settles at once for one side what was changed apart."""
    position = journal.position(store)
    mine, theirs = _records(store), _records(other)
    my_stamps, their_stamps = stamps.read(store.connection), stamps.read(other.connection)
    differ = {key for key in mine.keys() | theirs.keys() if mine.get(key) != theirs.get(key)}
    joined = {
        key: _Joined(key, mine.get(key), theirs.get(key), my_stamps.get(key, {}), their_stamps.get(key, {}))
        for key in differ | my_stamps.keys() | their_stamps.keys()
    }
    differing = [conflict for key in sorted(joined) if joined[key].there for conflict in conflicts.found(*key, joined[key].rows)]
    if decide is not None:
        counter = max(stamps.next_counter(one.connection) for one in (store, other))
        for conflict in differing:
            joined[conflict.key].settle(conflict.field, decide, counter)
    after = _whole_logbook(mine, joined)
    stamped = {key: one.rows for key, one in joined.items() if one.rows != my_stamps.get(key, {})}
    save = {key: record for key, record in after.items() if mine.get(key) != record}
    delete = {key: record for key, record in mine.items() if key not in after}
    return Merge(
        position=position,
        save=_in_order(save),
        delete=_in_order(delete)[::-1],
        stamped=stamped,
        conflicts=() if decide is not None else tuple(differing),
        added=_count(key for key in save if key not in mine),
        changed=_count(key for key in save if key in mine),
        deleted=_count(delete),
        numbers_twice=_numbers_twice(after, save),
        editions_twice=_editions_twice(store, other, after),
    )


class _Joined:
    """One record as both logbooks have it: ``rows`` of stamps for its parts, and what each side would say of them."""

    def __init__(self, key: Key, mine: Record | None, theirs: Record | None, my_rows: Rows, their_rows: Rows) -> None:
        self.key = key
        self.parts = tuple(stamps.parts(record) if record is not None else {} for record in (mine, theirs))
        known = (my_rows, their_rows)
        fields = {THERE, *my_rows, *their_rows, *self.parts[0], *self.parts[1]}
        self.rows: Rows = {}
        for field in fields:
            sides = [self._side(known[side], side, field) for side in (0, 1)]
            rows = _joined(*sides)
            if len(rows) > 1 or any(not writer.startswith("=") for writer in rows):
                self.rows[field] = rows

    def _side(self, known: Rows, side: int, field: str) -> dict[str, tuple[int, str | None]]:
        """A part's stamps on one side; one that was never changed there still says what the record began with."""
        if field in known:
            return known[field]
        if not self.parts[side]:
            return {}
        value = "true" if field == THERE else self.parts[side].get(field, "null")
        return {f"={value}": (0, value)}

    def settle(self, field: str, side: Side, counter: int) -> None:
        """Decide for one side: what it says is changed in sight of everything else."""
        known = self.parts[0 if side == "ours" else 1]
        value = ("true" if known else "false") if field == THERE else known.get(field, "null")
        seen = {writer: (count, None) for writer, (count, _) in self.rows[field].items()}
        self.rows[field] = {**seen, stamps.new_writer(): (counter, value)}

    @property
    def there(self) -> bool:
        """Whether the record stands, where nothing that refers to it says more. What was changed apart from a deletion stays."""
        rows = self.rows.get(THERE)
        return any(self.parts) if rows is None else "true" in stamps.standing(rows)

    def record(self) -> Record | None:
        """What the record says, be it there or not; None where neither side has it."""
        if not any(self.parts):
            return None
        said = {**self.parts[1], **self.parts[0]}
        said |= {field: stamps.standing(rows)[0] for field, rows in self.rows.items() if field != THERE and stamps.standing(rows)}
        return stamps.whole(*self.key, said)


def _joined(
    one: dict[str, tuple[int, str | None]], other: dict[str, tuple[int, str | None]]
) -> dict[str, tuple[int, str | None]]:  # fmt: skip
    """The stamps of both: a change stands unless a side that knows it has gone past it."""
    rows = {}
    for writer in one.keys() | other.keys():
        counter, value = one.get(writer) or other[writer]
        past = (writer in one and one[writer][1] is None) or (writer in other and other[writer][1] is None)
        rows[writer] = (counter, None if past else value)
    return rows


def _whole_logbook(mine: dict[Key, Record], joined: dict[Key, _Joined]) -> dict[Key, Record]:
    """All records after the merge: what is referred to stays although it was deleted, and no attempts go in a circle."""
    after = {key: record for key, record in mine.items() if key not in joined}
    after |= {key: record for key, one in joined.items() if one.there and (record := one.record()) is not None}
    waiting = list(after.values())
    while waiting:
        for _, kind, id in references.of(waiting.pop()):
            key = (kind, id)
            if key not in after and (record := joined[key].record() if key in joined else None) is not None:
                after[key] = record
                waiting.append(record)
    for key in [key for key in joined if key[0] == "print" and key in after]:
        _cut_circle(after, key)
    return after


def _cut_circle(after: dict[Key, Record], key: Key) -> None:
    """Attempts that came to lead back to themselves: the one with the last id is an attempt of none."""
    path: dict[Key, None] = {}
    at: Key | None = key
    while at is not None and at not in path:
        path[at] = None
        record = after.get(at)
        at = ("print", record.attempt_of) if isinstance(record, Print) and record.attempt_of is not None else None
    if at is not None:
        circle = list(path)[list(path).index(at) :]
        cut = max(circle)
        after[cut] = msgspec.structs.replace(after[cut], attempt_of=None)


def apply(store: Store, other: Store, merge: Merge, said: str) -> journal.Entry | None:
    """Do what ``plan`` found, as one journal entry, all or nothing; None where only knowledge came in.

    Refused where the logbook was changed since.
    """
    with store.writing() as connection:
        if journal.position(store) != merge.position:
            raise StoreRefused("another program changed the logbook meanwhile; nothing was brought in, try again")
        numbering.learn_homes(connection, other.connection)
        numbering.learn_numbers(connection, other.connection, [one for one in merge.save if isinstance(one, Print)])
        changes = [change for record in merge.save if (change := steps.put(connection, record)) is not None]
        changes += [steps.take(connection, kind_of(record), record.id) for record in merge.delete]
        before = stamps.read(connection)
        stamps.replace(connection, merge.stamped)
        journal.check_references(store, changes)
        steps.refresh_lines(connection, changes)
        _bring_thumbnails(store, other)
        if not changes and not merge.conflicts:
            return None
        keys = {*merge.stamped, *((kind, id) for kind, id, *_ in changes)}
        then = {key: before.get(key, {}) for key in keys}
        kept = stamps.packed(then, {**then, **merge.stamped})
        return journal.append(connection, said, changes, kept=kept)


def _records(store: Store) -> dict[Key, Record]:
    return {(kind_of(kind), record.id): record for kind in RECORDS for record in reading.in_order_of_entry(store, kind)}


def _numbers_twice(after: dict[Key, Record], save: dict[Key, Record]) -> tuple[int, ...]:
    new = {as_integer(one.number) for one in save.values() if isinstance(one, Print) and one.number is not None}
    bearers = Counter(as_integer(one.number) for one in after.values() if isinstance(one, Print) and one.number is not None)
    return tuple(sorted(number for number in new if bearers[number] > 1))


def _editions_twice(store: Store, other: Store, after: dict[Key, Record]) -> tuple[tuple[str, int | None, int], ...]:
    """Numbers of an edition that prints of both logbooks bear, and that neither had given twice before."""
    here, there = (_in_editions(lately.numbered(one)) for one in (store, other))
    both = _in_editions(
        one for log in (store, other) for one in lately.numbered(log) if ("print", one.print) in after
    )  # fmt: skip
    return tuple(
        (picture, size, number)
        for (picture, size, number), prints in sorted(both.items(), key=str)
        if len(prints) > 1 and max(len(here.get((picture, size, number), ())), len(there.get((picture, size, number), ()))) < 2
    )


def _in_editions(prints: Iterable[lately.Numbered]) -> dict[tuple[str, int | None, int], set[str]]:
    found: dict[tuple[str, int | None, int], set[str]] = {}
    for one in prints:
        if one.verdict in (None, "keep"):  # a failed one's number is free again
            found.setdefault((one.picture, one.size, one.number), set()).add(one.print)
    return found


def _in_order(records: dict[Key, Record]) -> tuple[Record, ...]:
    place = {kind: number for number, kind in enumerate(KINDS)}
    number = {record.id: as_integer(record.number) for record in records.values() if isinstance(record, Print) and record.number}
    return tuple(sorted(records.values(), key=lambda record: (place[kind_of(record)], number.get(record.id, 0), record.id)))


def _count(keys: Iterable[Key]) -> dict[str, int]:
    counts = Counter(kind for kind, _ in keys)
    return {kind: counts[kind] for kind in KINDS if counts[kind]}


def _bring_thumbnails(store: Store, other: Store) -> None:
    for picture in thumbnails.kept(other) - thumbnails.kept(store):
        image = thumbnails.read(other, picture)
        if image is not None:
            thumbnails.write(store, picture, image)
