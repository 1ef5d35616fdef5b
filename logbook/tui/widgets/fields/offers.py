"""The words that would complete what is being typed, laid under the line they belong to."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.geometry import Region, Size

from logbook.records.text import plain
from logbook.tui.widgets.fields.words import Words

LINES_OF_THE_FRAME = 3
TAB = "tab"


class Offers(Words):
    """What would complete the word being typed; the chosen one is marked, and of several unchosen ones tab takes the first.

    While it is open it gets no smaller: it does not jump under the letters that are typed.
    """

    DEFAULT_CSS = """
    Offers { layer: above; position: absolute; display: none; background: $panel; color: $quiet; }
    """

    def __init__(self) -> None:
        super().__init__()
        self._under, self._open_as = Region(), Size()

    def offer(self, words: Sequence[str], at: int | None, line: Region, screen: Size) -> None:
        """Show other offers under ``line``, over it where there is more room."""
        if self.display != bool(words):
            self.display = bool(words)
        if not words:
            self._under = Region()
            return
        least = self._open_as if line == self._under else Size(line.width, 0)
        width = min(max(least.width, *(len(word) + len(TAB) + 4 for word in words)), screen.width - 1)
        height = max(least.height, len(words))
        if (self._under, self._open_as) != (line, Size(width, height)):
            self._under, self._open_as = line, Size(width, height)
            below = line.bottom + height <= screen.height - LINES_OF_THE_FRAME
            self.styles.width, self.styles.height = width, height
            self.styles.offset = (min(line.x, screen.width - width), line.bottom if below else max(0, line.y - height))
        self.say(Content("\n").join(_offer(plain(word), place, at, width) for place, word in enumerate(words)))


def _offer(word: str, place: int, at: int | None, width: int) -> Content:
    if place == at:
        return Content.assemble(("› ", "$foreground"), (word, "bold $foreground"))
    return Content(f"  {word:<{width - len(TAB) - 3}}{TAB}" if at is None and place == 0 else f"  {word}")
