"""Several programs on one file: nothing is lost, nothing overwritten, no number given twice."""

import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Barrier

import pytest

from logbook.actions import log_print
from logbook.records import Light, Print, codec
from logbook.store import InUse, StoreRefused, backup, copying, journal, merging, migrating, open_store, opening, reading
from logbook.store.checking import check_file
from tests.conftest import DEMO_TODAY
from tests.studio import print_out, sheet, with_a_print

ROOT = Path(__file__).parents[2]
PROGRAMS, TIMES = 4, 12


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A furnished logbook with one print, closed."""
    return with_a_print(tmp_path / "logbook.db")


def together(path: Path, work: str, programs: int, times: int) -> list[tuple[int, list[str]]]:
    """Start so many programs, let them all go at once: each one's exit status and lines."""
    command = [sys.executable, "-m", "tests.store.logging_program", str(path), work, str(times)]
    running = [
        subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=ROOT) for _ in range(programs)
    ]
    for program in running:
        assert program.stdout is not None
        assert program.stdout.readline() == "started\n"
    return _let_go(running)


def _let_go(running: Sequence["subprocess.Popen[str]"]) -> list[tuple[int, list[str]]]:
    for program in running:
        assert program.stdin is not None
        program.stdin.write("\n")
        program.stdin.flush()
    ends = []
    for program in running:
        said, _ = program.communicate(timeout=120)
        ends.append((program.returncode, said.splitlines()))
    return ends


def test_many_programs_log_at_once_and_every_number_said_is_the_prints_own(path: Path) -> None:
    ends = together(path, "log", PROGRAMS, TIMES)
    assert [status for status, _ in ends] == [0] * PROGRAMS
    lines = [line.split("\t") for _, said in ends for line in said]
    assert len(lines) == PROGRAMS * TIMES
    with open_store(path) as store:
        numbers = reading.numbers(store)
        assert len(numbers) == len(set(numbers.values())) == PROGRAMS * TIMES + 1
        for number, id, said in lines:
            assert numbers[id] == int(number)
            assert said.startswith(f"#{int(number):04d} ")
        assert [entry.said for entry in journal.entries(store, 100)][: len(lines)] == [
            said for _, _, said in sorted(lines, key=lambda line: -int(line[0]))
        ]
    assert check_file(path) == []


def test_of_programs_that_import_one_file_at_once_one_adds_it_and_the_others_say_so(path: Path) -> None:
    records = "\n".join(codec.encode(sheet(f"imported-{n}", hours=n)) for n in range(200))
    path.with_name("records.jsonl").write_text(records, encoding="utf-8")
    ends = together(path, "import", 3, 1)
    assert sorted(status for status, _ in ends) == [0, 1, 1]
    refused = next(said for status, said in ends if status == 1)
    assert refused[0].startswith("refused: records.jsonl:1: id: a print 'imported-0' is in the logbook already")
    with open_store(path) as store:
        assert reading.count(store, Print) == 201


def test_of_two_programs_that_open_an_older_file_one_migrates_and_both_work(path: Path, tmp_path: Path) -> None:
    scripts = tmp_path / "scripts"
    shutil.copytree(migrating.folder(), scripts)
    (scripts / "9000_later.sql").write_text("CREATE TABLE later (a TEXT) STRICT;", encoding="utf-8")
    newer = migrating.migrations(scripts)
    with open_store(path) as old, open_store(path, known=newer) as new:
        journal.write(old, "Light", save=[Light(id="old", name="a")])
        journal.write(new, "Light", save=[Light(id="new", name="b")])
        with open_store(path, known=newer) as again:
            assert reading.ids(again, Light) == {"wall", "old", "new"}


def test_of_many_that_open_an_older_file_at_once_one_migrates_and_the_others_wait(path: Path, tmp_path: Path) -> None:
    scripts = tmp_path / "scripts"
    shutil.copytree(migrating.folder(), scripts)
    (scripts / "9000_later.sql").write_text("CREATE TABLE later (a TEXT) STRICT;", encoding="utf-8")
    barrier = Barrier(5)

    def work(number: int) -> None:
        barrier.wait()
        with open_store(path, known=migrating.migrations(scripts)) as store:
            journal.write(store, "Light", save=[Light(id=f"light-{number}", name="a")])

    with ThreadPoolExecutor(5) as pool:
        list(pool.map(work, range(5)))
    with open_store(path, known=migrating.migrations(scripts)) as store:
        assert reading.ids(store, Light) == {"wall", *(f"light-{number}" for number in range(5))}
    (copy,) = tmp_path.glob("*before-9000_later")
    assert check_file(copy) == []
    with open_store(copy, migrate=False) as before:
        assert before.connection.execute("SELECT 1 FROM sqlite_master WHERE name = 'later'").fetchone() is None
    assert list(tmp_path.glob(".*part*")) == []


def test_an_edit_over_an_edit_keeps_both_in_the_journal(path: Path) -> None:
    with open_store(path) as one, open_store(path) as other:
        journal.write(one, "One", save=[sheet("first", note="one")])
        journal.write(other, "Other", save=[sheet("first", note="other")])
        kept = [change.after for change in journal.changes_of(one, sheet("first")) if change.after is not None]
        assert ['"note":"one"' in kept[1], '"note":"other"' in kept[2]] == [True, True]
        journal.undo(one)
        assert (reading.get(other, Print, "first") or sheet("none")).note == "one"


def test_a_print_that_another_program_deleted_meanwhile_is_refused_in_plain_words(path: Path) -> None:
    with open_store(path) as one, open_store(path) as other:
        form = log_print.attempt(one, "first")
        journal.write(other, "Deleted", delete=[sheet("first")])
        with pytest.raises(Exception, match="attempt_of: there is no print 'first'"):
            log_print.log(one, form)
        assert reading.count(one, Print) == 0


def test_a_merge_planned_before_another_program_wrote_is_refused(path: Path, tmp_path: Path) -> None:
    with open_store(path) as store:
        laptop = backup.back_up(store, tmp_path / "laptop.db")
        with open_store(laptop) as there:
            print_out(there, sheet("theirs"))
            planned = merging.plan(store, there)
            with open_store(path) as other:
                print_out(other, sheet("meanwhile"))
            with pytest.raises(StoreRefused, match="another program changed the logbook meanwhile"):
                merging.apply(store, there, planned, "Merged")
        assert reading.ids(store, Print) == {"first", "meanwhile"}


def test_restoring_into_a_file_that_another_program_writes_to_is_waited_for_then_said(
    path: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(copying, "WAIT_SECONDS", 0.2)
    monkeypatch.setattr(backup, "WAIT_SECONDS", 0.2)
    monkeypatch.setattr(opening, "WAIT_SECONDS", 0.2)
    with open_store(path) as store:
        copy = backup.back_up(store, tmp_path / "copy.db")
        print_out(store, sheet("after"))
    other = sqlite3.connect(path, isolation_level=None)
    other.execute("BEGIN IMMEDIATE")
    with pytest.raises(InUse, match="in use by another program, and waited for"):
        backup.restore(path, copy, DEMO_TODAY)
    other.execute("ROLLBACK")
    other.close()
    with open_store(path) as store:
        assert "after" in reading.ids(store, Print)
    backup.restore(path, copy, DEMO_TODAY)
    with open_store(path) as store:
        assert "after" not in reading.ids(store, Print)


def test_a_program_that_has_the_file_open_goes_on_with_what_was_restored(path: Path, tmp_path: Path) -> None:
    with open_store(path) as store:
        copy = backup.back_up(store, tmp_path / "copy.db")
        print_out(store, sheet("after"))
        version = store.version()
        backup.restore(path, copy, DEMO_TODAY)
        assert store.version() != version
        assert reading.ids(store, Print) == {"first"}
        print_out(store, sheet("later"))
    assert check_file(path) == []


def test_a_file_that_was_replaced_while_open_takes_no_more_writes(path: Path) -> None:
    other = path.with_name("other.db")
    shutil.copy(path, other)
    with open_store(path) as opened:
        other.replace(path)
        with pytest.raises(StoreRefused, match="was moved, replaced or taken away"):
            print_out(opened, sheet("lost"))
