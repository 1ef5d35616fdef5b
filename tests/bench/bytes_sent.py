"""Bytes sent to the terminal for each key press, as over a slow line: python -m tests.bench.bytes_sent [prints]."""

from __future__ import annotations

import sys
import tempfile
from pathlib import Path

from tests.bench.first_screen import OURS
from tests.bench.many import fill
from tests.bench.terminal import Terminal

# What is done, and the keys; the first of each place is what opening it sends.
PRINTS = (("open Prints", "2"), ("down a line", "j"), ("down a line", "j"), ("up a line", "k"), ("a page", "\x1b[6~"),
          ("/", "/"), ("a letter of a search", "w"), ("another", "i"), ("another", "n"), ("esc", "\x1b"))  # fmt: skip
FORM = (("open the log form", "n"), ("next field", "\t"), ("next field", "\t"), ("a letter", "a"), ("another", "b"),
        ("rub it out", "\x7f"), ("next field", "\t"), ("leave it", "\x1b"))  # fmt: skip
IDLE_SECONDS = 3.0


def sent(path: Path, size: tuple[int, int] = (120, 36)) -> dict[str, list[tuple[str, int]]]:
    """What each key press sent, in bytes, and what three seconds without one sent."""
    found: dict[str, list[tuple[str, int]]] = {}
    with Terminal(OURS, (str(path),), size=size) as terminal:
        terminal.wait_for("black is loaded")
        found["start"] = [("the first screen", terminal.wait_until_quiet(2.0))]
        found["idle"] = [(f"{IDLE_SECONDS:g} s without a key", terminal.wait_until_quiet(IDLE_SECONDS))]
        for name, keys in (("Prints", PRINTS), ("the log form", FORM)):
            found[name] = [(what, terminal.press(key)) for what, key in keys]
    return found


def main() -> None:
    """Measure and print."""
    prints = int(sys.argv[1]) if len(sys.argv) > 1 else 10_000
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "bytes.db"
        fill(path, prints)
        for name, counts in sent(path).items():
            print(f"{name}: " + ", ".join(f"{what} {count:,}" for what, count in counts))


if __name__ == "__main__":
    main()
