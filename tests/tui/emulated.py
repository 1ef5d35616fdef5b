"""As much of a terminal as it takes to know what stands on it: moving, colours, letters of one cell and of two."""

from __future__ import annotations

import re

from rich.cells import cell_len

_TOKEN = re.compile(
    r"\x1b\[(?P<place>\d*(?:;\d*)?)H|\x1b\[(?P<colours>[\d;]*)m|\x1b\[[0-?]*[ -/]*[@-~]"
    r"|\x1b[P\]_^].*?(?:\x07|\x1b\\)|\x1b[ -/]*[0-~]|(?P<control>[\x00-\x1f])|(?P<letter>.)",
    re.DOTALL,
)
Cell = tuple[str, str]


class Emulated:
    """A terminal of some columns and rows; every cell holds its letter and the colours it was drawn in."""

    def __init__(self, columns: int, rows: int) -> None:
        self.columns = columns
        self.cells: list[list[Cell]] = [[(" ", "")] * columns for _ in range(rows)]
        self._x = self._y = 0
        self._colours = ""

    def feed(self, text: str) -> None:
        """Take what a program sent."""
        for found in _TOKEN.finditer(text):
            if found["place"] is not None:
                row, _, column = found["place"].partition(";")
                self._y, self._x = int(row or 1) - 1, int(column or 1) - 1
            elif found["colours"] is not None:
                self._colours = "" if found["colours"] in ("", "0") else found["colours"]
            elif found["letter"] is not None:
                self._put(found["letter"])

    def _put(self, letter: str) -> None:
        row, end = self.cells[self._y], min(self._x + cell_len(letter), self.columns)
        if row[self._x][0] == "" and self._x > 0:  # half a letter of two cells becomes a blank
            row[self._x - 1] = (" ", row[self._x - 1][1])
        if end < self.columns and row[end][0] == "":
            row[end] = (" ", row[end][1])
        for x in range(self._x, end):
            row[x] = (letter if x == self._x else "", self._colours)
        self._x = end

    @property
    def text(self) -> str:
        """The letters, line by line."""
        return "\n".join("".join(letter for letter, _ in row).rstrip() for row in self.cells)
