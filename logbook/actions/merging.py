"""A second logbook's records brought into this one: a summary first, then all or nothing."""

from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from logbook.records.refusal import Refused
from logbook.records.text import plain
from logbook.store import Store, merging, open_store
from logbook.store.copying import copy_database
from logbook.store.journal import Entry
from logbook.store.references import users_in_words


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


def summary(merge: merging.Merge, name: str) -> list[str]:
    """What a merge does, a line each."""
    if merge.is_nothing:
        return [f"{plain(name)} holds nothing that is not here already"]
    return [
        f"{label}: {users_in_words(counts)}"
        for label, counts in (
            ("New here", merge.added),
            ("Changed there since", merge.changed),
            ("Deleted there since", merge.deleted),
            ("Changed here since, so this version stays and theirs is kept in the journal", merge.kept),
        )
        if counts
    ]


def bring_in(store: Store, other: Store, merge: merging.Merge, name: str) -> Entry | None:
    """Do what ``logbook.store.merging.plan`` found; None where there is nothing to do."""
    if merge.is_nothing:
        return None
    return merging.apply(store, other, merge, f"Merged {plain(name)}")
