"""What SQLite keeps beside the file is taken away while it is open: confirmed saves are kept, and it is said."""

import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from logbook.records import Print
from logbook.store import StoreRefused, open_store, reading
from logbook.store.checking import check_file
from tests.studio import furnish, print_out, sheet

ANOTHER = """
import sys
from tests.studio import print_out, sheet
from logbook.store import open_store
with open_store(sys.argv[1]) as store:
    print_out(store, sheet("theirs"))
    print("saved", flush=True)
    sys.stdin.readline()
"""


@contextmanager
def another_program(path: Path) -> Iterator[None]:
    """Another program that has saved a print and still has the file open."""
    command = [sys.executable, "-c", ANOTHER, str(path)]
    root = Path(__file__).parents[2]
    with subprocess.Popen(command, cwd=root, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        assert program.stdout.readline() == "saved\n"
        yield
        program.communicate("\n")


@pytest.mark.parametrize("taken", [("-wal",), ("-shm",), ("-wal", "-shm")])
@pytest.mark.parametrize("looked", [True, False])
def test_confirmed_saves_are_kept_and_the_next_one_goes_where_it_belongs(
    tmp_path: Path, taken: tuple[str, ...], looked: bool
) -> None:
    path = tmp_path / "logbook.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("before"))
        for suffix in taken:
            path.with_name(path.name + suffix).unlink()
        if looked:
            store.version()
        print_out(store, sheet("after"))
        assert "taken away while the logbook was open" in store.warning
        print_out(store, sheet("later"))
    with open_store(path) as store:
        assert reading.ids(store, Print) == {"before", "after", "later"}
    assert check_file(path) == []
    (apart,) = tmp_path.glob("logbook-saved-apart.db")
    with open_store(apart) as store:
        assert reading.ids(store, Print) == {"before"}


def test_where_another_wrote_meanwhile_nothing_is_mixed_and_a_merge_brings_it_in(tmp_path: Path) -> None:
    path = tmp_path / "logbook.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("before"))
    with open_store(path) as store:
        print_out(store, sheet("mine"))
        for suffix in ("-wal", "-shm"):
            path.with_name(path.name + suffix).unlink()
        with another_program(path), pytest.raises(StoreRefused, match="another program"):
            print_out(store, sheet("refused"))
    (apart,) = tmp_path.glob("logbook-saved-apart.db")
    with open_store(apart) as kept:
        assert reading.ids(kept, Print) == {"before", "mine"}
