"""Whatever the texts of a logbook hold, standard output gets no control, no reordering, and markup as the text it is."""

import csv
import io
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from logbook.actions.exporting import export_lines
from logbook.records import Record, kind_of
from logbook.records.codec import decode
from logbook.store import Store, open_store, reading
from tests.commands.conftest import Run
from tests.hostile import CONTROL, VALID, harmful

pytestmark = pytest.mark.usefixtures("off_line")
NUMBER = "the newest print's"
MONTH: tuple[str, ...] = ("report", "month", "--today", "2026-11-25", "--size", "40x50cm")
COMMANDS: tuple[tuple[str, ...], ...] = (
    ("report", "darkness"),
    ("report", "changeovers", "--today", "2026-11-25"),
    ("report", "batch", "--today", "2026-11-25"),
    MONTH,
    (*MONTH, "--markdown"),
    ("label", NUMBER),
    ("check",),
)


@pytest.mark.parametrize("spoilt", [VALID], indirect=True, ids=["valid"])
def test_reports_print_markup_as_text_and_nothing_that_controls_or_hides(run: Run, spoilt: Path, tmp_path: Path) -> None:
    said = {}
    number = _newest(spoilt)
    for command in COMMANDS:
        ended = run(*(number if part == NUMBER else part for part in command))
        changed_behind_the_back = command == ("check",)  # it finds what was put into the file
        assert ended.exit_code == changed_behind_the_back, (command, ended.output)
        assert harmful(ended.output) == set(), command
        said[command] = ended.stdout
    assert "[bold red]x[/]" in said["label", NUMBER]
    assert "[bold red]x[/]" in said[MONTH].replace("\n", "")
    page = tmp_path / "month.html"
    ended = run(*MONTH, "--html", page)
    assert ended.exit_code == 0
    written = page.read_text(encoding="utf-8")
    assert "alert(1)" in written
    assert not {"script", "iframe", "object"} & _tags(written)
    assert harmful(written) == set()
    assert not re.search(r'(src|href)="?(https?:)?//', written)
    assert run("label", number, "--png", tmp_path / "label.png").exit_code == 0


@pytest.mark.parametrize("spoilt", [VALID], indirect=True, ids=["valid"])
def test_no_cell_of_the_csv_runs_and_all_of_it_comes_back_equal(run: Run, spoilt: Path, tmp_path: Path) -> None:
    ended = run("export", "--csv")
    assert ended.exit_code == 0
    for row in csv.reader(io.StringIO(ended.stdout)):
        assert not [cell for cell in row if cell[:1] in set("=+@\t\r") or (cell[:1] == "-" and not cell[1:2].isdigit())]
    table = tmp_path / "all.csv"
    table.write_bytes(ended.stdout_bytes)
    again = run("--file", tmp_path / "again.db", "import", table)
    assert again.exit_code == 0, again.output
    with open_store(spoilt) as before, open_store(tmp_path / "again.db") as after:
        assert _by_id(before) == _by_id(after)


def _newest(path: Path) -> str:
    with open_store(path) as store:
        return str(max(reading.numbers(store).values()))


def _tags(page: str) -> set[str]:
    found: set[str] = set()
    parser = HTMLParser()
    parser.handle_starttag = lambda tag, attributes: found.update([tag])  # type: ignore[method-assign, assignment]
    parser.feed(page)
    return found


def _by_id(store: Store) -> dict[tuple[str, str], Record]:
    return {(kind_of(record), record.id): record for record in map(decode, export_lines(store))}


@pytest.mark.parametrize("spoilt", [CONTROL], indirect=True, ids=["control"])
def test_a_file_with_control_characters_made_by_other_means_is_read_or_refused_in_plain_lines(
    run: Run, spoilt: Path, tmp_path: Path
) -> None:
    merge = ("merge", spoilt, "--file", tmp_path / "mine.db", "--yes")
    ways = [*(way for way in COMMANDS if NUMBER not in way), ("label", "1"), ("export",), ("export", "--csv"), merge]
    for command in ways:
        ended = run(*command)
        assert ended.exit_code in (0, 1), command
        assert ended.exception is None or isinstance(ended.exception, SystemExit), (command, ended.exception)
        assert harmful(ended.output) == set(), (command, ended.output[:400])
    ended = run("check")
    assert ended.exit_code == 1
    assert "control character" in ended.stderr


def test_hostile_names_of_files_are_said_plainly(run: Run, tmp_path: Path) -> None:
    name = tmp_path / "a\x1b[2J\u202e.jsonl"
    for command in (
        ("import", name),
        ("inspect", name),
        ("strip", name, "--to", tmp_path / "out.tif"),
        ("measure", name),
        ("restore", name),
        ("backup", tmp_path / "b\x1b[2J.db"),
        ("merge", name),
        ("--file", name, "check"),
        ("--file", tmp_path / "c\x1b[2J.db", "export"),
        ("report", "darkness", "--paper", "\x1b[2Jrag"),
        ("label", "\x1b[2J"),
    ):
        ended = run(*command)
        assert ended.exception is None or isinstance(ended.exception, SystemExit), (command, ended.exception)
        assert harmful(ended.output) == set(), (command, ended.output)
    name.write_bytes(b'{"kind": "\x1b[2J"}\n{"kind":"paper","id":"\\u001b[2J","\\u202ex":1}\nnonsense \x1b\n')
    ended = run("import", name)
    assert ended.exit_code == 1
    assert harmful(ended.output) == set(), ended.output
