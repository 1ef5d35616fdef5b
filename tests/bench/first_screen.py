"""The first screen of the program against that of a bare Textual program: whole processes, each in a terminal.

Processor time from the start of Python to what stands on the screen: others who use the machine do not count.
"""

from __future__ import annotations

import statistics
import tempfile
from pathlib import Path

from tests.bench.many import fill
from tests.bench.row import Row
from tests.bench.terminal import Terminal

# sqlite-utils takes pandas in where it finds it, as beside the test tools; who installs the logbook does not have it.
AS_INSTALLED = "import sys; sys.modules['pandas'] = None\n"
_BARE = (
    AS_INSTALLED
    + """
from textual.app import App
from textual.widgets import Static
class Bare(App):
    def compose(self):
        yield Static("There it is.")
Bare().run()
"""
)
OURS = AS_INSTALLED + "from logbook.tui.app import run; from pathlib import Path; run(Path(sys.argv[1]))"
SIZE = (100, 30)


def seconds(code: str, words: tuple[str, ...], *arguments: str) -> float:
    """Processor seconds until ``words`` are drawn."""
    with Terminal(code, arguments, size=SIZE) as terminal:
        terminal.wait_for(*words)
        return terminal.end()


def rows(prints: int = 10_000, times: int = 7) -> list[Row]:
    """Its first paint, which is there to press keys at, and the same with what the logbook holds."""
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "first.db"
        fill(path, prints)
        taken = []
        for _ in range(times + 1):  # the first one warms the caches up, and makes the day's backup
            taken.append([
                seconds(OURS, ("Shelf",), str(path)),
                seconds(OURS, ("black is loaded",), str(path)),
                seconds(_BARE, ("There it is.",)),
            ])  # fmt: skip
    painted, filled, bare = (statistics.median(column) for column in zip(*taken[1:], strict=True))
    against = "a bare Textual program's"
    return [
        Row("first screen, painted", painted, against, bare, limit=1.3),
        Row(f"first screen with its {prints:,} prints", filled, against, bare, limit=2),
    ]


if __name__ == "__main__":
    for row in rows():
        print(row, round(row.ratio, 2))
