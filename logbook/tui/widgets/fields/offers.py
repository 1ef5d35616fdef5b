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
    """What would complete the word being typed; the chosen one is marked, and of several unchosen ones tab takes the first."""

    DEFAULT_CSS = """
    Offers { layer: above; position: absolute; display: none; background: $panel; color: $quiet; }
    """

    def offer(self, words: Sequence[str], at: int | None, line: Region, screen: Size) -> None:
        """Show other offers under ``line``, over it where there is more room."""
        self.display = bool(words)
        if not words:
            return
        width = min(max(line.width, *(len(word) + len(TAB) + 4 for word in words)), screen.width - 1)
        below = line.bottom + len(words) <= screen.height - LINES_OF_THE_FRAME
        self.styles.width, self.styles.height = width, len(words)
        self.styles.offset = (min(line.x, screen.width - width), line.bottom if below else max(0, line.y - len(words)))
        self.say(Content("\n").join(_offer(plain(word), place, at, width) for place, word in enumerate(words)))


def _offer(word: str, place: int, at: int | None, width: int) -> Content:
    if place == at:
        return Content.assemble(("› ", "$foreground"), (word, "bold $foreground"))
    return Content(f"  {word:<{width - len(TAB) - 3}}{TAB}" if at is None and place == 0 else f"  {word}")
