"""``logbook jobs``: from a real print server, and from a folder."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from tests.commands.conftest import Run
from tests.link.queue import Queue, print_server


@pytest.fixture(scope="module")
def queue(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Queue]:
    with print_server(tmp_path_factory.mktemp("queue")) as known:
        known.print("Ebb at Low Stair 40x50.tif", "media=Custom.400x500mm", copies=2)
        known.print("Taken away", "job-hold-until=indefinite")
        known.run("cancel", "wide-2")
        known.finished(2)
        yield known


def test_jobs_are_taken_once_and_the_queue_is_kept_for_the_next_time(run: Run, queue: Queue) -> None:
    first = run("jobs", "--from", str(queue.address), "--json")
    today = datetime.now().astimezone().date().isoformat()
    unlogged = {"sheets": 2, "since": today}
    assert json.loads(first.stdout) == {"new": 2, "known": 0, "broken_off": ["Taken away"], "unlogged": unlogged}
    assert json.loads(run("jobs", "--json").stdout)["new"] == 0
    told = run("jobs")
    assert told.exit_code == 0 and "Taken away: cancelled, no print" in told.stdout
    assert told.stdout.endswith("2 sheets of today are not in the log.\n")


def test_watch_says_what_is_new_and_nothing_else(tmp_path: Path, queue: Queue) -> None:
    command = [
        sys.executable,
        "-m",
        "logbook",
        "--file",
        str(tmp_path / "a.db"),
        "jobs",
        "--from",
        str(queue.address),
        "--watch",
        "1s",
    ]
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as program:
        assert program.stdout is not None
        assert program.stdout.readline().startswith("2 prints from")
        program.stdout.readline()  # the sheets that are not in the log
        queue.print("Signal Mast.tif")
        assert program.stdout.readline().startswith("1 print from")  # not a word between
        program.send_signal(signal.SIGINT)
        program.communicate(timeout=60)
    assert program.returncode == 0


def test_without_a_queue_or_a_folder_it_says_what_to_name(run: Run) -> None:
    assert run("jobs").exit_code == 1
    assert run("jobs", "--folder", "nowhere").exit_code == 2
    assert run("jobs", "--from", "ipp://localhost/printers/x", "--folder", ".").exit_code == 2
    assert run("jobs", "--from", "http://localhost").exit_code == 1
    ended = run("jobs", "--from", "ipp://127.0.0.1:9/printers/wide")
    assert ended.exit_code == 1 and len(ended.stderr.splitlines()) == 1


def test_a_folders_new_files_are_pictures(run: Run, tmp_path: Path) -> None:
    folder = tmp_path / "to print"
    folder.mkdir()
    Image.fromarray(np.zeros((8, 9, 3), np.uint8)).save(folder / "Signal Mast.png")
    (folder / "odd.tif").write_text("no picture")
    told = json.loads(run("jobs", "--folder", folder, "--json").stdout)
    assert told["new"] == ["Signal Mast"] and len(told["left"]) == 1
    assert "Signal Mast" in run("export", "--kind", "picture").stdout
    assert run("jobs", "--folder", folder).stdout.startswith("Nothing new")
    (folder / "Signal Mast.png").rename(folder / "mast, moved.png")
    assert json.loads(run("jobs", "--folder", folder, "--json").stdout)["moved"] == ["Signal Mast"]
