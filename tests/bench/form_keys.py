"""A key in the log form against one in a bare Textual form of as many fields: processor time, each program in a terminal."""

from __future__ import annotations

import statistics
import tempfile
from pathlib import Path

from tests.bench.first_screen import AS_INSTALLED, OURS, SIZE
from tests.bench.many import fill
from tests.bench.row import Row
from tests.bench.terminal import Terminal

FIELDS = 26
BARE = (
    AS_INSTALLED
    + f"""
from textual.app import App
from textual.containers import Horizontal, VerticalScroll
from textual.widgets import Input, Label
class Bare(App):
    CSS = "Input {{ width: 32; height: 1; border: none; }} Horizontal {{ height: 1; }} Label {{ width: 14; }}"
    def compose(self):
        with VerticalScroll():
            for number in range({FIELDS}):
                yield Horizontal(Label(f"field {{number}}"), Input(compact=True))
Bare().run()
"""
)
KEYS = (*"mor", "\x7f", "\x7f", "\x7f", "\t") * 4
"""Three letters, taken back, and on to the next field."""
SECONDS_TO_REST = 0.6
"""What the form works out once the keys rest counts to them."""


def seconds_a_key(code: str, open_with: str, *words: str, arguments: tuple[str, ...] = ()) -> float:
    """Processor seconds of a key once ``words`` stand there, each typed when the one before is done."""
    with Terminal(code, arguments, size=SIZE) as terminal:
        terminal.wait_for(*words)
        terminal.wait_until_quiet(2 * SECONDS_TO_REST)
        if open_with:
            terminal.press(open_with, quiet=SECONDS_TO_REST)
        terminal.press("\t\x1b[Z", quiet=SECONDS_TO_REST)  # the first key warms the styles up
        before = terminal.processor_seconds()
        for key in KEYS:
            terminal.press(key, quiet=0.1)
        terminal.wait_until_quiet(SECONDS_TO_REST)
        return (terminal.processor_seconds() - before) / len(KEYS)


def row(prints: int = 1_000, times: int = 5) -> Row:
    """Our log form against the bare one, in turn."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "form.db"
        fill(path, prints)
        taken = [
            (seconds_a_key(OURS, "n", "black is loaded", "batch", arguments=(str(path),)), seconds_a_key(BARE, "", "field 20"))
            for _ in range(times)
        ]
    ours, bare = (statistics.median(column) for column in zip(*taken, strict=True))
    return Row("a key in the log form", ours, f"a bare Textual form of {FIELDS} inputs", bare, limit=2)


if __name__ == "__main__":
    found = row()
    print(found, round(found.ratio, 2))
