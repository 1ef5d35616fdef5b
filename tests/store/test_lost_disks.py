"""A disk that fills up, a folder that is read-only, a disk that goes away: said in a line, with nothing lost."""

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from click.testing import CliRunner

from logbook.actions.exporting import export_lines
from logbook.cli import cli
from logbook.records import Paper, Print
from logbook.records.refusal import Refusal
from logbook.store import Store, StoreRefused, Unwritable, backup, open_store, opening, reading
from logbook.store.checking import check_file
from tests.conftest import DEMO_TODAY
from tests.studio import furnish, one_more, print_out, sheet

ROOT = Path(__file__).parents[2]
OPENING = """
import os
import sys
from pathlib import Path
from logbook.records.refusal import Refusal
from logbook.store import migrating, open_store
known = migrating.migrations()  # looked up while the sources can still be read, wherever they lie
os.setregid(65534, 65534)
os.setreuid(65534, 65534)
for folder in sys.argv[1:]:
    try:
        with open_store(Path(folder) / "logbook.db", known=known) as store:
            print("only to read" if store.only_to_read else "opened")
    except Refusal as refusal:
        print(refusal)
"""


def _mounts() -> bool:
    if os.geteuid() != 0 or not sys.platform.startswith("linux"):
        return False
    with tempfile.TemporaryDirectory() as folder:
        if subprocess.run(["mount", "-t", "tmpfs", "tmpfs", folder], capture_output=True, check=False).returncode:
            return False
        subprocess.run(["umount", folder], check=True)
    return True


@contextmanager
def disk(folder: Path, size: str) -> Iterator[Path]:
    """A small disk of its own at ``folder``."""
    folder.mkdir()
    subprocess.run(["mount", "-t", "tmpfs", "-o", f"size={size}", "tmpfs", folder], check=True)
    try:
        yield folder
    finally:
        subprocess.run(["umount", "-l", folder], check=False, capture_output=True)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of a megabyte."""
    if not _mounts():
        pytest.skip("only root can mount a small disk here")
    with disk(tmp_path / "disk", "1m") as mounted:
        yield mounted


def _log_until_refused(store: Store) -> tuple[set[str], str]:
    logged = set()
    for _ in range(3_000):
        try:
            logged.add(one_more(store).print.id)
        except Refusal as refusal:
            return logged, str(refusal)
    raise AssertionError("the disk never filled up")


def test_a_disk_that_fills_up_is_said_and_every_print_confirmed_is_there(small_disk: Path) -> None:
    filler = small_disk / "filler"
    with open_store(small_disk / "logbook.db") as store:
        furnish(store)
        print_out(store, sheet("first", note="x" * 2_000))
        filler.write_bytes(bytes(100_000))
        logged, said = _log_until_refused(store)
        assert said.startswith("the disk is full; nothing was saved")
        assert reading.ids(store, Print) == {"first", *logged}
        with pytest.raises(Unwritable, match=r"the disk is full|No space left"):
            backup.back_up_today(store, DEMO_TODAY)
        assert backup.dated(store.path) == {}
        filler.unlink()
        logged.add(one_more(store).print.id)
    assert check_file(small_disk / "logbook.db") == []
    with open_store(small_disk / "logbook.db") as store:
        assert reading.ids(store, Print) == {"first", *logged}


def test_a_disk_that_was_unplugged_takes_nothing_and_says_so(small_disk: Path) -> None:
    with open_store(small_disk / "logbook.db") as store:
        furnish(store)
        print_out(store, sheet("first"))
        subprocess.run(["umount", "-l", small_disk], check=True)
        with pytest.raises(StoreRefused, match="moved, replaced or taken away"):
            print_out(store, sheet("lost"))
        with pytest.raises(StoreRefused, match="moved, replaced or taken away"):
            store.version()
    assert list(small_disk.iterdir()) == []


def test_a_read_only_disk_is_said(small_disk: Path) -> None:
    with open_store(small_disk / "logbook.db") as store:
        furnish(store)
    before = (small_disk / "logbook.db").read_bytes()
    subprocess.run(["mount", "-o", "remount,ro", small_disk], check=True)
    with open_store(small_disk / "logbook.db") as store:
        assert "rag" in reading.ids(store, Paper)
        with pytest.raises(Unwritable, match="lies where nothing can be written; nothing was saved"):
            print_out(store, sheet("lost"))
    with pytest.raises(Unwritable, match=r"can't be (opened or )?written; nothing was saved"):
        open_store(small_disk / "new.db")
    assert (small_disk / "logbook.db").read_bytes() == before
    assert check_file(small_disk / "logbook.db") == []


@pytest.mark.parametrize("left_open", [True, False])
def test_a_read_only_disk_is_read_reported_on_and_backed_up_elsewhere(
    small_disk: Path, tmp_path: Path, left_open: bool
) -> None:  # fmt: skip
    path = small_disk / "logbook.db"
    with open_store(path) as store:
        furnish(store)
        print_out(store, sheet("first"))
        lines = list(export_lines(store))
        if left_open:  # what was saved last still lies beside the file
            for suffix in ("", "-wal"):
                shutil.copy(f"{path}{suffix}", tmp_path / f"kept{suffix}")
    for kept in tmp_path.glob("kept*"):
        shutil.copy(kept, small_disk / f"logbook.db{kept.name.removeprefix('kept')}")
    subprocess.run(["mount", "-o", "remount,ro", small_disk], check=True)
    commands = CliRunner()
    merged = ["--file", str(tmp_path / "another.db"), "merge", str(path), "--yes"]
    made = [[name, str(tmp_path / f"{name}.db")] for name in ("backup", "recover")]
    for command in (["report", "month"], ["report", "batch"], ["label", "1"], ["check"], merged, *made):
        ended = commands.invoke(cli, ["--file", str(path), *command])
        assert ended.exit_code == 0, ended.output
    assert commands.invoke(cli, ["--file", str(path), "export"]).stdout.splitlines() == lines
    assert check_file(tmp_path / "backup.db") == []
    with open_store(tmp_path / "recover.db") as recovered:
        assert sorted(export_lines(recovered)) == sorted(lines)
    refused = commands.invoke(cli, ["--file", str(path), "import", "-"], input=lines[0].replace('"id":"', '"id":"another-'))
    assert refused.exit_code == 1
    assert "lies where nothing can be written; nothing was saved" in refused.stderr


def test_what_is_copied_to_be_read_is_all_of_one_moment(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path = tmp_path / "logbook.db"
    with open_store(path) as owner:
        furnish(owner)
        print_out(owner, sheet("first"))
        copy, copied = shutil.copyfile, []

        def copy_while_the_owner_writes(source: Path, target: Path) -> None:
            copy(source, target)
            copied.append(source)
            if len(copied) == 1:
                print_out(owner, sheet("second"))
                owner.connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
                print_out(owner, sheet("third"))

        monkeypatch.setattr(shutil, "copyfile", copy_while_the_owner_writes)
        monkeypatch.setattr(opening, "_only_to_read", lambda path: True)
        with open_store(path) as store:
            assert reading.ids(store, Print) == {"first", "second", "third"}
        assert check_file(path) == []


@pytest.mark.skipif(os.geteuid() != 0 or not sys.platform.startswith("linux"), reason="only root can become somebody else")
def test_somebody_elses_folder_is_said_in_a_line() -> None:
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / "empty").mkdir()
        (folder / "full").mkdir()
        open_store(folder / "full" / "logbook.db").close()
        for path, mode in ((folder, 0o755), (folder / "empty", 0o755), (folder / "full", 0o755)):
            path.chmod(mode)
        (folder / "full" / "logbook.db").chmod(0o644)
        before = _names(folder)
        ended = _as_nobody(folder / "empty", folder / "full")
        assert ended.stderr == ""
        first, second = ended.stdout.splitlines()
        assert "can't be opened or written; nothing was saved" in first
        assert second == "only to read"
        assert _names(folder) == before


def _names(folder: Path) -> set[Path]:
    return set(folder.rglob("*"))


def _as_nobody(*folders: Path) -> "subprocess.CompletedProcess[str]":
    command = [sys.executable, "-c", OPENING, *map(str, folders)]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)
