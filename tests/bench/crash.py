"""Kill the program, tear its writes, fill and break its disk, cut the power, at every operation on a file, and count.

``python -m tests.bench.crash`` prints a row for each scenario; ``--most N`` samples N places a scenario and fault.
"""

import argparse
import os
import random
import re
import shutil
import signal
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from itertools import chain
from pathlib import Path
from typing import NamedTuple

from logbook.records.refusal import Refusal
from logbook.store import opening
from tests.bench.faults import power, shim
from tests.bench.faults.checks import GOES_ON, went_on
from tests.bench.faults.scenarios import SCENARIOS, Scenario
from tests.bench.faults.shim import Fault

MOST_MOMENTS = 200
PLACE = re.compile(r" at \d+ of \d+$")


class Run(NamedTuple):
    """How one run ended: ``struck`` says whether the fault hit, ``confirmed`` what was saved before, ``said`` a refusal."""

    struck: bool
    confirmed: list[str]
    problems: list[str]


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--most", type=int, default=1_000_000, help="places tried a scenario and fault")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", default="", help="scenarios whose name holds this")
    parser.add_argument("--careless", action="store_true", help="without syncing, to see that the power cut is felt")
    parser.add_argument("--power-cuts", action="store_true", help="only those")
    asked = parser.parse_args()
    if not shim.is_loaded():
        return _under_the_library(sys.argv[1:])
    if asked.careless:
        opening._PRAGMAS = tuple(pragma.replace("= FULL", "= OFF") for pragma in opening._PRAGMAS)
    draw = random.Random(asked.seed)
    tried = failed = 0
    with tempfile.TemporaryDirectory(dir=_quick_folder()) as folder:
        for scenario in SCENARIOS:
            if asked.only in scenario.name:
                faults, problems = _try(scenario, Path(folder), asked, draw)
                tried, failed = tried + sum(faults.values()), failed + len(problems)
                counts = ", ".join(f"{name} {number}" for name, number in faults.items() if number)
                print(f"{scenario.name}: {sum(faults.values())} faults ({counts}), {len(problems)} not survived", flush=True)
                for problem in problems[:20]:
                    print(f"    {problem}", flush=True)
    print(f"total: {tried} faults, {failed} not survived")
    return 1 if failed else 0


def _under_the_library(arguments: list[str]) -> int:
    with tempfile.TemporaryDirectory() as folder:
        return shim.run_under(shim.build(Path(folder)), "tests.bench.crash", *arguments)


def _quick_folder() -> str | None:
    """Where fsync costs nothing: faults are injected above the file system, so its kind does not matter."""
    return "/dev/shm" if os.access("/dev/shm", os.W_OK) else None


def _try(scenario: Scenario, folder: Path, asked: argparse.Namespace, draw: random.Random) -> tuple[dict[str, int], list[str]]:
    template, scratch = folder / "template", folder / "scratch"
    shutil.rmtree(template, ignore_errors=True)
    template.mkdir()
    _in_a_child(lambda: scenario.prepare(template))
    runs: list[Iterator[tuple[str, Run]]] = [_power_cuts(scenario, template, scratch, asked.most, draw)]
    if not asked.power_cuts:
        runs += [_at_operations(scenario, template, scratch, asked.most, draw)]
        runs += [_at_moments(scenario, template, scratch, asked.most, draw)]
    faults: dict[str, int] = {}
    problems: list[str] = []
    for name, run in chain(*runs):
        kind = PLACE.sub("", name)
        faults[kind] = faults.get(kind, 0) + run.struck
        problems += [f"{name}: {problem}" for problem in run.problems]
    return faults, problems


def _at_operations(
    scenario: Scenario, template: Path, scratch: Path, most: int, draw: random.Random
) -> Iterator[tuple[str, Run]]:
    operations = _operations(scenario, template, scratch)
    for fault in list(Fault)[1:]:
        for at in sorted(draw.sample(range(1, operations + 1), min(most, operations))):
            yield f"{fault.name.lower()} at {at} of {operations}", _run(scenario, template, scratch, fault, at)


def _at_moments(scenario: Scenario, template: Path, scratch: Path, most: int, draw: random.Random) -> Iterator[tuple[str, Run]]:
    _fresh(template, scratch)
    started = time.monotonic()
    _work(scenario, scratch, Fault.NONE, 0)
    lasts = time.monotonic() - started
    for _ in range(max(1, min(most, MOST_MOMENTS) // 3)):
        yield "killed at a moment", _run(scenario, template, scratch, Fault.NONE, 0, kill_after=draw.uniform(0, lasts))


def _power_cuts(scenario: Scenario, template: Path, scratch: Path, most: int, draw: random.Random) -> Iterator[tuple[str, Run]]:
    record = scratch.with_name("record")
    _fresh(template, scratch)
    _work(scenario, scratch, Fault.NONE, 0, record=record)
    operations = power.read(record, scratch)
    for _ in range(min(most, MOST_MOMENTS)):
        cut = draw.randrange(len(operations) + 1)
        confirmed = power.play(operations[:cut], template, scratch, draw)
        yield f"power cut at {cut} of {len(operations)}", Run(True, confirmed, _verified(scenario, scratch, confirmed))


def _operations(scenario: Scenario, template: Path, scratch: Path) -> int:
    _fresh(template, scratch)
    _, said = _work(scenario, scratch, Fault.KILLED, 0)
    assert said[-1].startswith("ended"), said
    return int(said[-1].split()[1])


def _run(scenario: Scenario, template: Path, scratch: Path, fault: Fault, at: int, kill_after: float | None = None) -> Run:
    _fresh(template, scratch)
    status, said = _work(scenario, scratch, fault, at, kill_after)
    confirmed = [line.removeprefix("confirmed ") for line in said if line.startswith("confirmed ")]
    problems = [line.removeprefix("raw ") for line in said if line.startswith("raw ")]
    killed = os.WIFSIGNALED(status) and os.WTERMSIG(status) == signal.SIGKILL
    struck = killed or any(line.startswith("ended") and line.split()[2] != "0" for line in said)
    if GOES_ON in confirmed:
        confirmed.remove(GOES_ON)
        problems += _went_on(scratch)
    return Run(struck, confirmed, problems + _verified(scenario, scratch, confirmed))


def _fresh(template: Path, scratch: Path) -> None:
    shutil.rmtree(scratch, ignore_errors=True)
    shutil.copytree(template, scratch)


def _work(
    scenario: Scenario, folder: Path, fault: Fault, at: int, kill_after: float | None = None, record: Path | None = None
) -> tuple[int, list[str]]:
    """The scenario in a child of its own: its exit status and what it said."""
    read_end, write_end = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read_end)
        _child(scenario, folder, fault, at, write_end, record)
    os.close(write_end)
    if kill_after is not None:
        time.sleep(kill_after)
        os.kill(child, signal.SIGKILL)
    with os.fdopen(read_end) as pipe:
        said = pipe.read().splitlines()
    return os.waitpid(child, 0)[1], said


def _child(scenario: Scenario, folder: Path, fault: Fault, at: int, pipe: int, record: Path | None) -> None:
    def say(line: str) -> None:
        os.write(pipe, f"{line}\n".encode())

    def confirm(what: str) -> None:
        if record is not None:
            shim.note(what)
        say(f"confirmed {what}")

    record_to = os.open(record, os.O_CREAT | os.O_WRONLY | os.O_TRUNC) if record is not None else -1
    shim.arm(fault, at, folder, record_to)
    try:
        scenario.work(folder, confirm)
    except Refusal as refusal:
        say(f"refused {refusal}" if "\n" not in str(refusal) else f"raw more than a line: {refusal!r}")
    except BaseException as error:
        say(f"raw {type(error).__name__}: {error}".replace("\n", " / "))
    say(f"ended {shim.counted()} {shim.struck()}")
    os._exit(0)


def _verified(scenario: Scenario, folder: Path, confirmed: list[str]) -> list[str]:
    return _found(lambda: scenario.verify(folder, confirmed))


def _went_on(folder: Path) -> list[str]:
    return _found(lambda: went_on(folder))


def _found(verify: Callable[[], list[str]]) -> list[str]:
    """What is wrong, found by another child, so that no connection outlives the check."""
    read_end, write_end = os.pipe()
    child = os.fork()
    if child == 0:
        os.close(read_end)
        try:
            found = verify()
        except BaseException as error:
            found = [f"{type(error).__name__}: {error}".replace("\n", " / ")]
        os.write(write_end, "\n".join(found).encode())
        os._exit(0)
    os.close(write_end)
    with os.fdopen(read_end) as pipe:
        found = pipe.read().splitlines()
    os.waitpid(child, 0)
    return found


def _in_a_child(work: Callable[[], None]) -> None:
    child = os.fork()
    if child == 0:
        try:
            work()
        except BaseException as error:
            print(f"could not prepare: {error!r}", file=sys.stderr, flush=True)
            os._exit(1)
        os._exit(0)
    assert os.waitpid(child, 0)[1] == 0


if __name__ == "__main__":
    sys.exit(main())
