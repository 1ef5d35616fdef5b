"""Commands on a file that another program holds, that is damaged, or that cannot be written: one line, nothing lost."""

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

import pytest

from logbook.store import backup, copying, opening
from tests.actions.test_importing import PAPER, PICTURE
from tests.commands.conftest import Run


@pytest.fixture
def locked(run: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[sqlite3.Connection]:
    """A logbook with a paper, which another program is writing to."""
    assert run("import", "-", input=PAPER).exit_code == 0
    assert run("backup", tmp_path / "copy.db").exit_code == 0
    for module in (opening, copying, backup):
        monkeypatch.setattr(module, "WAIT_SECONDS", 0.2)
    with closing(sqlite3.connect(tmp_path / "logbook.db", isolation_level=None)) as other:
        other.execute("BEGIN IMMEDIATE")
        yield other


def test_a_locked_file_is_waited_for_then_said_and_can_still_be_read_and_copied(
    run: Run, locked: sqlite3.Connection, tmp_path: Path
) -> None:
    for command, last in (("import", "-"), ("restore", str(tmp_path / "copy.db"))):
        ended = run(command, last, input=PICTURE)
        assert ended.exit_code == 1
        assert "in use by another program, and waited for" in ended.stderr
        assert len(ended.stderr.strip().splitlines()) == 1
    for words in (["export"], ["check"], ["report", "darkness"], ["backup", str(tmp_path / "another.db")]):
        ended = run(*words)
        assert ended.exit_code == 0, (words, ended.output)
    locked.execute("ROLLBACK")
    assert run("import", "-", input=PICTURE).exit_code == 0
    assert run("export").stdout.count("\n") == 2


def test_a_page_that_can_not_be_read_is_said_in_one_line_by_every_command(run: Run, tmp_path: Path) -> None:
    run("import", "-", input=PAPER)
    path = tmp_path / "logbook.db"
    with closing(sqlite3.connect(path)) as connection:
        (root,) = connection.execute("SELECT rootpage FROM sqlite_master WHERE name = 'paper'").fetchone()
    content = bytearray(path.read_bytes())
    content[4096 * (root - 1) : 4096 * (root - 1) + 100] = b"\xff" * 100
    path.write_bytes(bytes(content))
    for command in (
        ("export",),
        ("report", "month"),
        ("import", "-"),
        ("backup", tmp_path / "b.db"),
        ("merge", path, "--file", tmp_path / "mine.db"),
        ("restore", path, "--file", tmp_path / "mine.db"),
    ):
        ended = run(*command, input=PICTURE)
        assert ended.exit_code == 1, command
        assert isinstance(ended.exception, SystemExit), (command, ended.exception)
        assert len(ended.stderr.strip().splitlines()) == 1, ended.stderr
        assert "damage" in ended.stderr
