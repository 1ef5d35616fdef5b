"""Bringing in another logbook: by id, the newest change wins, and the other version stays in the journal."""

from collections import Counter
from collections.abc import Iterable

import msgspec

from logbook.records import KINDS, RECORDS, Record, codec, kind_of
from logbook.store import journal, reading, references, thumbnails
from logbook.store import journal_steps as steps
from logbook.store.opening import Store
from logbook.store.refusals import StoreRefused

Key = tuple[str, str]  # kind, id

# When each record was last changed, and whether it was deleted then. Undone entries are changes that do not stand.
_LAST = """
SELECT c.kind, c.id, e.instant, c.did FROM journal_change AS c JOIN journal_entry AS e ON e.entry = c.entry
WHERE e.state = 'done' ORDER BY e.instant, e.entry, c.step
"""


class Merge(msgspec.Struct, frozen=True, kw_only=True):
    """What a merge does, before it is done.

    ``position`` is the journal's when it was planned.
    """

    position: tuple[int, int] = (0, 0)
    save: tuple[Record, ...] = ()
    delete: tuple[Record, ...] = ()
    outvoted: tuple[tuple[Record, Record], ...] = ()
    added: dict[str, int] = {}
    changed: dict[str, int] = {}
    deleted: dict[str, int] = {}
    kept: dict[str, int] = {}

    @property
    def is_nothing(self) -> bool:
        """Whether the other logbook holds nothing new."""
        return not (self.save or self.delete or self.outvoted)


def plan(store: Store, other: Store) -> Merge:
    """What would come in from ``other``."""
    position = journal.position(store)
    mine, theirs = _records(store), _records(other)
    my_last, their_last = _last_changes(store), _last_changes(other)
    save = {key: record for key, record in theirs.items() if key not in mine and not _deleted_since(my_last, their_last, key)}
    differing = [key for key in theirs.keys() & mine.keys() if theirs[key] != mine[key]]
    newer = [key for key in differing if _time(their_last, key) > _time(my_last, key)]
    save |= {key: theirs[key] for key in newer}
    _revive(save, mine, theirs)
    outvoted = tuple(
        (theirs[key], mine[key]) for key in sorted(set(differing) - set(newer)) if not _noted(store, mine[key], theirs[key])
    )
    delete = {key: mine[key] for key in mine.keys() - theirs.keys() if _deleted_there(my_last, their_last, key)}
    _spare_what_is_used(delete, {**mine, **save})
    return Merge(
        position=position,
        save=_in_order(save),
        delete=_in_order(delete)[::-1],
        outvoted=outvoted,
        added=_count(key for key in save if key not in mine),
        changed=_count(key for key in save if key in mine),
        deleted=_count(delete),
        kept=_count((kind_of(record), record.id) for _, record in outvoted),
    )


def apply(store: Store, other: Store, merge: Merge, said: str) -> journal.Entry:
    """Do what ``plan`` found, as one journal entry, all or nothing. Refused where the logbook was changed since."""
    with store.writing() as connection:
        if journal.position(store) != merge.position:
            raise StoreRefused("another program changed the logbook meanwhile; nothing was brought in, try again")
        connection.executemany(
            "INSERT OR IGNORE INTO print_number (print, number) VALUES (?, ?)",
            other.connection.execute("SELECT print, number FROM print_number").fetchall(),
        )
        changes = [change for record in merge.save if (change := steps.put(connection, record)) is not None]
        changes += [steps.take(connection, kind_of(record), record.id) for record in merge.delete]
        for theirs, mine in merge.outvoted:  # their version passes through, so that the journal holds both
            changes += [change for record in (theirs, mine) if (change := steps.put(connection, record)) is not None]
        journal.check_references(store, changes)
        steps.refresh_lines(connection, changes)
        _bring_thumbnails(store, other)
        return journal.append(connection, said, changes)


def _records(store: Store) -> dict[Key, Record]:
    return {(kind_of(kind), record.id): record for kind in RECORDS for record in reading.in_order_of_entry(store, kind)}


def _last_changes(store: Store) -> dict[Key, tuple[int, bool]]:
    rows = store.connection.execute(_LAST)
    return {(kind, id): (instant, did == "deleted") for kind, id, instant, did in rows}


def _time(last: dict[Key, tuple[int, bool]], key: Key) -> int:
    return last.get(key, (0, False))[0]


def _deleted_since(my_last: dict[Key, tuple[int, bool]], their_last: dict[Key, tuple[int, bool]], key: Key) -> bool:
    """Whether the record was deleted here after its last change there."""
    at, deleted = my_last.get(key, (0, False))
    return deleted and at >= _time(their_last, key)


def _deleted_there(my_last: dict[Key, tuple[int, bool]], their_last: dict[Key, tuple[int, bool]], key: Key) -> bool:
    at, deleted = their_last.get(key, (0, False))
    return deleted and at > _time(my_last, key)


def _revive(save: dict[Key, Record], mine: dict[Key, Record], theirs: dict[Key, Record]) -> None:
    """What comes in brings with it what it refers to, even where that was deleted here."""
    waiting = list(save.values())
    while waiting:
        for _, kind, id in references.of(waiting.pop()):
            key = (kind, id)
            if key not in mine and key not in save and key in theirs:
                save[key] = theirs[key]
                waiting.append(theirs[key])


def _spare_what_is_used(delete: dict[Key, Record], after: dict[Key, Record]) -> None:
    """A deletion of the other logbook's stops where something that stays refers to the record."""
    while True:
        staying = (record for key, record in after.items() if key not in delete)
        used = {(kind, id) for record in staying for _, kind, id in references.of(record)} & delete.keys()
        if not used:
            return
        for key in used:
            del delete[key]


def _noted(store: Store, mine: Record, theirs: Record) -> bool:
    """Whether the journal holds the other version already."""
    line = codec.encode(theirs)
    return any(line in (change.before, change.after) for change in journal.changes_of(store, mine))


def _in_order(records: dict[Key, Record]) -> tuple[Record, ...]:
    place = {kind: number for number, kind in enumerate(KINDS)}
    return tuple(sorted(records.values(), key=lambda record: place[kind_of(record)]))


def _count(keys: Iterable[Key]) -> dict[str, int]:
    counts = Counter(kind for kind, _ in keys)
    return {kind: counts[kind] for kind in KINDS if counts[kind]}


def _bring_thumbnails(store: Store, other: Store) -> None:
    for picture in thumbnails.kept(other) - thumbnails.kept(store):
        image = thumbnails.read(other, picture)
        if image is not None:
            thumbnails.write(store, picture, image)
