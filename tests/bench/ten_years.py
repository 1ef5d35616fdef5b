"""Ten years of a busy studio: how soon each place stands on 100,000 prints, and the memory of the program.

In processor time: others who use the machine do not count.

python -m tests.bench.ten_years [prints]
"""

from __future__ import annotations

import asyncio
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import NamedTuple

MOST_MIB = 250
MOST_SECONDS = 0.3
TYPED = "winter redo lift"


class Measured(NamedTuple):
    """Seconds to work each place's answer out, to open it with its answer there, and for keys while filtering; MiB at most."""

    worked_out_s: dict[str, float]
    opened_s: dict[str, float]
    keys_s: list[float]
    peak_mib: float


def measure(prints: int = 100_000) -> Measured:
    """All of it in a program of its own, on a logbook made for it."""
    from tests.bench.many import fill

    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "years.db"
        fill(path, prints)
        done = subprocess.run(
            [sys.executable, "-m", "tests.bench.ten_years", "--on", path], capture_output=True, text=True, check=True,
            env={**os.environ, "LOGBOOK_SETTINGS": os.devnull},
        )  # fmt: skip
    return Measured(**json.loads(done.stdout.splitlines()[-1]))


async def _visit(path: Path) -> Measured:
    from logbook.tui.app import LogbookApp, _opener
    from logbook.tui.places import SPOTS
    from logbook.tui.widgets.lists.search_line import SearchInput
    from tests.bench.many import END
    from tests.tui.screens import settled

    worked_out, opened, keys = {}, {}, []
    app = LogbookApp(path, clock=lambda: END)
    async with app.run_test(size=(120, 36)) as pilot:
        await settled(pilot)
        for spot in SPOTS:
            began = time.process_time()
            await app.go(spot.mode)
            await settled(pilot)
            worked_out[spot.mode] = time.process_time() - began
        for spot in SPOTS:
            await app.go("shelf" if spot.mode == "today" else "today")
            await app.remove_mode(spot.mode)
            app.add_mode(spot.mode, _opener(spot.mode))
            began = time.process_time()
            await app.go(spot.mode)
            while app.place.version_shown != app.version:
                await asyncio.sleep(0.001)
            await _painted(app)
            opened[spot.mode] = time.process_time() - began
        await app.go("prints")
        search = app.place.query_one(SearchInput)
        search.focus()
        await settled(pilot)
        await _painted(app)
        for letter in TYPED:
            began, before = time.process_time(), app.place.answers
            search.insert_text_at_cursor(letter)
            while app.place.answers == before and letter != " ":  # a space alone looks for nothing else
                await asyncio.sleep(0.001)
            await _painted(app)
            keys.append(time.process_time() - began)
    return Measured(worked_out, opened, keys, _peak_mib())


async def _painted(app: object) -> None:
    painted = asyncio.Event()
    app.call_after_refresh(painted.set)  # type: ignore[attr-defined]
    await painted.wait()


def _peak_mib() -> float:
    """The most memory that this program held, as the system counts it; not what whoever started it held."""
    status = Path("/proc/self/status")
    if status.exists():
        return next(int(line.split()[1]) for line in status.read_text().splitlines() if line.startswith("VmHWM")) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / (1024 if sys.platform == "linux" else 2**20)


def told(found: Measured) -> str:
    """The figures as lines of text."""
    places = [
        f"{mode}: worked out in {found.worked_out_s[mode]:.2f} s, then open in {1000 * found.opened_s[mode]:.0f} ms"
        for mode in found.opened_s
    ]
    keys = f"a key while filtering: {1000 * sorted(found.keys_s)[len(found.keys_s) // 2]:.0f} ms, at most"
    return "\n".join([*places, f"{keys} {1000 * max(found.keys_s):.0f} ms", f"memory at most: {found.peak_mib:.0f} MiB"])


def main() -> None:
    """Measure and print; ``--on PATH`` is the program that is measured."""
    if sys.argv[1:2] == ["--on"]:
        print(json.dumps(asyncio.run(_visit(Path(sys.argv[2])))._asdict()))
    else:
        print(told(measure(int(sys.argv[1]) if len(sys.argv) > 1 else 100_000)))


if __name__ == "__main__":
    # Not one of the program's own libraries, but sqlite-utils takes it in where it finds it, as beside the test tools.
    sys.modules["pandas"] = None  # type: ignore[assignment]
    main()
