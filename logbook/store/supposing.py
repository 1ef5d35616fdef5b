"""What would be if something were saved: it is saved in a copy in memory, and nothing of it reaches the file."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager

from logbook.records.long_work import still_asked
from logbook.store.copying import patience
from logbook.store.opening import STEPS_BETWEEN_LOOKS, Store
from logbook.store.refusals import in_plain_words


@contextmanager
def supposing(store: Store) -> Iterator[Store]:
    """A copy of all that ``store`` holds, with what was read and worked out of it; it goes when the block ends."""
    with in_plain_words(store.path), closing(sqlite3.connect(":memory:", isolation_level=None)) as memory:
        store.connection.backup(memory, progress=patience(store.path))
        memory.execute("PRAGMA foreign_keys = ON")
        memory.set_progress_handler(lambda: not still_asked(), STEPS_BETWEEN_LOOKS)
        copy = Store(store.path, memory)
        copy.kept = store.kept
        yield copy
