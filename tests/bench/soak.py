"""Random keys for minutes on a program that is stopped and continued: no traceback, whatever comes when.

``python -m tests.bench.soak --minutes 5 --prints 15000 --seed 1``. The sequence is the same for the same seed; where the
program ended by itself, its last words and the keys before them are printed.
"""

import argparse
import os
import random
import re
import signal
import sys
import time
from collections import deque
from pathlib import Path
from tempfile import TemporaryDirectory

from logbook.store.checking import check_file
from tests.bench.many import fill
from tests.bench.terminal import Terminal

PROGRAM = "import sys; from pathlib import Path; from logbook.tui.app import run; sys.exit(run(Path(sys.argv[1])))"
KEYS = [*"lvnaecorwxf1234567tpibmuU?LRXjkgGsSdDz/[]+-<>,.yYBAW=:", "\t", "\x1b[Z", "\r", "\x13", "\x10", "\x07", " ", "\x7f"]
ARROWS = ["\x1b[A", "\x1b[B", "\x1b[C", "\x1b[D", "\x1b[5~", "\x1b[6~"]
FUNCTION = ["\x1bOP", "\x1bOQ", "\x1bOR", "\x1bOS", "\x1b[15~", "\x1b[17~", "\x1b[18~", "\x1b[19~", "\x1b[20~"]
TYPED = [*"0123456789x,. ", *"winter"]
STRAY = ["\x1b", "\x1b", "\x1b", "é", "\udcff"]  # escape most of all, and a byte that is no text
LONGEST_STOP_SECONDS = 0.4


def soak(path: Path, minutes: float, seed: int) -> tuple[int, int, str]:
    """Keys pressed, times the program was stopped, and its last words where it ended by itself."""
    chance = random.Random(seed)
    keys = stops = 0
    last: deque[str] = deque(maxlen=40)
    with Terminal(PROGRAM, [str(path)]) as terminal:
        terminal.wait_for("Today")
        until = time.monotonic() + 60 * minutes
        while time.monotonic() < until:
            stopped = chance.random() < 0.1
            if stopped:
                terminal.send_signal(signal.SIGSTOP)
                stops += 1
            for key in chance.choices([*KEYS * 3, *ARROWS * 3, *FUNCTION, *TYPED * 2, *STRAY * 4], k=chance.randrange(1, 12)):
                terminal.send(os.fsencode(key))
                last.append(key)
                keys += 1
                if chance.random() < 0.3:
                    terminal.read_for(chance.uniform(0, 0.05))
            if stopped:
                time.sleep(chance.uniform(0, LONGEST_STOP_SECONDS))
                terminal.send_signal(signal.SIGCONT)
            drawn = terminal.read_for(chance.uniform(0, 0.3))
            if terminal.ended() or re.search(r"Traceback \(most recent", drawn):
                return keys, stops, f"{terminal.read_for(1.0)[-4000:]}\nafter {list(last)}"
    return keys, stops, ""


def main() -> int:
    """Soak one logbook, and check its file afterwards."""
    asked = argparse.ArgumentParser(description=__doc__)
    asked.add_argument("--minutes", type=float, default=5)
    asked.add_argument("--prints", type=int, default=15_000)
    asked.add_argument("--seed", type=int, default=1)
    options = asked.parse_args()
    with TemporaryDirectory() as folder:
        path = Path(folder) / "logbook.db"
        fill(path, options.prints)
        keys, stops, words = soak(path, options.minutes, options.seed)
        faults = check_file(path)
    print(
        f"{options.prints:,} prints, seed {options.seed}: {keys:,} keys in {options.minutes:g} minutes, stopped {stops:,} times"
    )
    print("\n".join([words or "it went on to the end", *faults]))
    return bool(words or faults)


if __name__ == "__main__":
    sys.exit(main())
