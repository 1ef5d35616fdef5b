"""What was changed in logbooks worked apart, and stands side by side until somebody decides."""

from collections.abc import Iterator

import msgspec

from logbook.records import KINDS
from logbook.store import journal, stamps
from logbook.store import journal_steps as steps
from logbook.store.opening import Store
from logbook.store.refusals import StoreRefused
from logbook.store.stamps import THERE, Key, Rows


class Conflict(msgspec.Struct, frozen=True):
    """One part of one record and the values that stand for it, as JSON; the logbook shows the first.

    ``field`` is '' where the question is whether the record is there at all.
    """

    kind: str
    id: str
    field: str
    values: tuple[str, ...]

    @property
    def key(self) -> Key:
        """Kind and id of the record."""
        return self.kind, self.id


def found(kind: str, id: str, rows: Rows) -> Iterator[Conflict]:
    """The conflicts among the stamps of one record. A record that a deletion and a change both claim is there meanwhile."""
    for field in sorted(rows):
        values = stamps.standing(rows[field])
        if len(values) > 1:
            yield Conflict(kind, id, field, ("true", "false") if field == THERE else tuple(values))


def waiting(store: Store) -> list[Conflict]:
    """Everything that waits for a decision."""
    statement = """SELECT DISTINCT kind, id FROM stamp WHERE value IS NOT NULL
        GROUP BY kind, id, field HAVING count(DISTINCT value) > 1 ORDER BY kind, id"""
    keys = store.connection.execute(statement).fetchall()
    there = [(kind, id) for kind, id in keys if steps.find(store.connection, KINDS[kind], id) is not None]
    return [one for kind, id in there for one in found(kind, id, stamps.read(store.connection, kind, id)[kind, id])]


def count(store: Store) -> int:
    """How many decisions wait."""
    return len(waiting(store))


def decide(store: Store, conflict: Conflict, value: str, said: str) -> journal.Entry:
    """Keep one of the values; undo brings the question back. Refused where it has been decided meanwhile."""
    with store.writing() as connection:
        rows = stamps.read(connection, conflict.kind, conflict.id).get(conflict.key, {})
        if conflict not in found(conflict.kind, conflict.id, rows):
            raise StoreRefused("this was decided meanwhile; look again")
        known = steps.find(connection, KINDS[conflict.kind], conflict.id)
        changes = []
        if known is not None and conflict.field == THERE and value == "false":
            changes = [steps.take(connection, conflict.kind, conflict.id)]
        elif known is not None and conflict.field != THERE:
            record = stamps.whole(conflict.kind, conflict.id, {**stamps.parts(known[1]), conflict.field: value})
            changes = [change for change in [steps.put(connection, record)] if change is not None]
        journal.check_references(store, changes)
        steps.refresh_lines(connection, changes)
        seen = {writer: (counter, None) for writer, (counter, _) in rows[conflict.field].items()}
        decided = {**rows, conflict.field: {**seen, stamps.new_writer(): (stamps.next_counter(connection), value)}}
        stamps.replace(connection, {conflict.key: decided})
        kept = stamps.packed({conflict.key: rows}, {conflict.key: decided})
        return journal.append(connection, said, changes, kept=kept)
