"""Programs killed, disks full or broken, power cut, at places drawn from all; `tests.bench.crash` tries every one."""

import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.bench.faults import shim

ROOT = Path(__file__).parents[2]

pytestmark = pytest.mark.skipif(
    shim.compiler() is None or not sys.platform.startswith("linux"), reason="faults are injected by a library compiled on Linux"
)


def crash(*arguments: str) -> tuple[int, int, str]:
    """Faults tried and faults not survived."""
    command = [sys.executable, "-m", "tests.bench.crash", *arguments]
    said = subprocess.run(command, text=True, capture_output=True, timeout=300, check=False, cwd=ROOT)
    total = re.search(r"^total: (\d+) faults, (\d+) not survived$", said.stdout, re.MULTILINE)
    assert total is not None, said.stderr
    return int(total[1]), int(total[2]), said.stdout


@pytest.mark.parametrize("part", ["log", "import", "merge", "migrate", "back up", "restore"])
def test_what_was_confirmed_is_there_and_nothing_is_there_by_halves(part: str) -> None:
    tried, failed, said = crash("--only", part, "--most", "2")
    print(said)
    assert failed == 0, said
    assert tried >= 6


def test_the_power_cut_finds_a_logbook_that_does_not_sync() -> None:
    """The harness itself: without SQLite's syncs the same cuts lose what was confirmed."""
    _, failed, said = crash("--only", "log", "--most", "12", "--careless", "--power-cuts")
    assert failed > 0, said
