"""``logbook import`` and ``logbook export``."""

import fcntl
import json
import os
import pty
import re
import struct
import subprocess
import sys
import termios
from pathlib import Path

from tests.actions.test_importing import PAPER, PICTURE, PRINTER, print_line
from tests.commands.conftest import Run

GOOD = "\n".join([PAPER, PRINTER, PICTURE, print_line("a")]) + "\n"


def test_import_says_what_was_added_and_export_gives_it_back(run: Run, tmp_path: Path) -> None:
    file = tmp_path / "day.jsonl"
    file.write_text(GOOD, encoding="utf-8")
    taken = run("import", file)
    assert (taken.exit_code, taken.stderr) == (0, "")
    assert taken.stdout == f"Imported 1 printer, 1 paper, 1 picture and 1 print from {file}\n"
    exported = run("export").stdout
    assert len(exported.splitlines()) == 4
    assert run("--file", tmp_path / "other.db", "import", "-", input=exported).exit_code == 0
    assert run("export", "--file", tmp_path / "other.db").stdout == exported


def test_a_logbook_that_came_by_csv_writes_the_same_lines(run: Run, tmp_path: Path) -> None:
    record = (
        '{"kind":"printer","id":"bench","name":"Bench","max_width_mm":610,"gauge_step_percent":1,'
        '"inks":[{"ink":"matte_black","nominal_ml":80},{"ink":"cyan","nominal_ml":80}]}\n'
        '{"kind":"gauge","id":"round","printer":"bench","at":"2026-11-20T09:00:00+01:00","levels":{"matte_black":50,"cyan":70}}\n'
    )
    lines, table = tmp_path / "all.jsonl", tmp_path / "all.csv"
    lines.write_text(record, encoding="utf-8")
    run("--file", tmp_path / "first.db", "import", lines)
    table.write_text(run("--file", tmp_path / "first.db", "export", "--csv").stdout, encoding="utf-8")
    run("--file", tmp_path / "second.db", "import", table)
    first, second = (run("--file", tmp_path / name, "export").stdout for name in ("first.db", "second.db"))
    assert first == second and first.count("\n") == 2


def test_each_file_stands_alone_and_the_faults_of_all_are_named(run: Run, tmp_path: Path) -> None:
    bad, good = tmp_path / "bad.jsonl", tmp_path / "good.jsonl"
    bad.write_text(PAPER + "\n" + '{"kind":"paper"}\n', encoding="utf-8")
    good.write_text(PICTURE, encoding="utf-8")
    ended = run("import", bad, good)
    assert ended.exit_code == 1
    missing = [f"{bad}:2: {name}: is missing" for name in ("black", "finish", "id", "name")]
    assert sorted(ended.stderr.splitlines()) == missing
    assert run("export").stdout.strip() == '{"kind":"picture","id":"ebb","title":"Ebb at Low Stair"}'


def test_a_table_needs_its_kind(run: Run) -> None:
    assert run("import", "--kind", "picture", "-", input="id,title\nebb,Ebb\n").exit_code == 0
    ended = run("import", "--kind", "painting", "-", input="id,title\nebb,Ebb\n")
    assert ended.exit_code == 2
    assert "none of printer, paper" in ended.stderr


def test_a_file_that_is_not_there_is_one_line(run: Run, tmp_path: Path) -> None:
    ended = run("import", tmp_path / "none.jsonl")
    assert ended.exit_code == 1
    assert ended.stderr == f"{tmp_path / 'none.jsonl'}: No such file or directory\n"


def test_a_refused_file_makes_no_logbook_where_none_was(run: Run, tmp_path: Path) -> None:
    assert run("import", "-", input='{"kind":"paper"}').exit_code == 1
    assert list(tmp_path.iterdir()) == []
    (tmp_path / "logbook.db").touch()
    assert run("import", "-", input='{"kind":"paper"}').exit_code == 1
    assert (tmp_path / "logbook.db").exists()


def test_csv_comes_back_equal(run: Run, tmp_path: Path) -> None:
    run("import", "-", input=GOOD)
    table = run("export", "--csv").stdout
    assert table.splitlines()[0].startswith("kind,id,name")
    run("--file", tmp_path / "other.db", "import", "--kind", "print", "-", input=table)
    assert run("--file", tmp_path / "other.db", "export").stdout == run("export").stdout


def test_reading_commands_leave_no_file_behind(run: Run, tmp_path: Path) -> None:
    assert run("export").stdout == ""
    assert list(tmp_path.iterdir()) == []


def test_the_bar_of_a_long_file_stays_on_one_line_of_the_terminal(tmp_path: Path) -> None:
    file = tmp_path / "everything that was logged in the autumn of the year.jsonl"
    paper = {"kind": "paper", "name": "Rag", "finish": "x" * 4000, "black": "matte"}
    file.write_text("".join(json.dumps({**paper, "id": f"p{number}", "name": f"Rag {number}"}) + "\n" for number in range(300)))
    ours, theirs = pty.openpty()
    fcntl.ioctl(theirs, termios.TIOCSWINSZ, struct.pack("HHHH", 24, 80, 0, 0))
    command = [sys.executable, "-m", "logbook", "--file", str(tmp_path / "a.db"), "import", str(file)]
    environment = {name: value for name, value in os.environ.items() if name not in ("COLUMNS", "LINES")}
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=theirs, env=environment, text=True) as program:
        os.close(theirs)
        drawn = _all_from(ours)
        assert program.stdout is not None and "300 papers" in program.stdout.read()
    frames = re.split(r"[\r\n]+", re.sub(r"\x1b\[[0-9;?]*[A-Za-z]", "", drawn))
    assert "100%" in drawn
    assert max(map(len, frames)) <= 80
    assert drawn.count("\n") == 1


def _all_from(terminal: int) -> str:
    """What a program wrote to a terminal until it ended."""
    parts: list[bytes] = []
    while True:
        try:
            part = os.read(terminal, 65536)
        except OSError:
            part = b""
        if not part:
            os.close(terminal)
            return b"".join(parts).decode()
        parts.append(part)


def test_a_level_that_fell_further_than_anything_draws_is_pointed_out(run: Run, tmp_path: Path) -> None:
    """18 typed for 81: it may be right, so it comes in, once, and its day is named."""
    printer = '{"kind":"printer","id":"one","name":"Bench one","max_width_mm":610,"inks":[{"ink":"cyan","nominal_ml":350}],'
    rounds = [(1, 82), (2, 18), (3, 18)]
    gauges = [
        f'{{"kind":"gauge","id":"g{day}","printer":"one","at":"2026-11-0{day}T10:00:00Z","levels":{{"cyan":{level}}}}}'
        for day, level in rounds
    ]
    first, second = tmp_path / "a.jsonl", tmp_path / "b.jsonl"
    first.write_text("\n".join([printer + '"gauge_step_percent":1}', *gauges[:2]]))
    second.write_text(gauges[2])
    done = run("import", first)
    assert done.exit_code == 0
    assert "Look at 2 Nov 2026: cyan fell from 82 to 18 %, 224 ml" in done.stderr
    assert run("import", second).stderr == ""
