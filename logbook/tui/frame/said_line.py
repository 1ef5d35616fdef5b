"""The thin rule above the standing line; what was just saved is set into it, so that nothing moves.

A long sentence begins in the line of hints above.
"""

from __future__ import annotations

from typing import cast

from rich.cells import cell_len
from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from logbook.records.text import plain


class SaidLine(Widget):
    """A rule with a sentence in it, while there is one."""

    DEFAULT_CSS = """
    SaidLine { height: 1; color: $rule; }
    """

    def on_mount(self) -> None:
        """Follow what the app says."""
        self.watch(self.app, "said", self._again, init=False)
        self.watch(self.app, "doing", self._again, init=False)

    def _again(self) -> None:
        self.refresh()

    def render(self) -> RenderResult:
        width = self.content_size.width
        _, said = in_two(plain(cast(str, self.app.said)), self.app.size.width)  # type: ignore[attr-defined]
        doing = plain(cast(str, self.app.doing))  # type: ignore[attr-defined]
        if not said and doing:
            words = Content.styled(f" {doing} ", "$quiet").truncate(width - 4, ellipsis=True)
            return Content.assemble(("──", "$rule"), words, ("─" * max(0, width - 2 - words.cell_length), "$rule"))
        if not said:
            return Content.styled("─" * width, "$rule")
        sentence = Content(f" {said} ").truncate(width - 4, ellipsis=True)
        rest = max(0, width - 2 - sentence.cell_length)
        return Content.assemble(("──", "$rule"), sentence.stylize("$asks"), ("─" * rest, "$rule"))


def in_two(said: str, width: int) -> tuple[str, str]:
    """What stands in the line of hints and what in the rule: a sentence too long for the rule takes both.

    ``width`` is the terminal's, so that both lines part the sentence at the same word.

    >>> in_two("Print #0412 logged", 40)
    ('', 'Print #0412 logged')
    >>> in_two("light grey rose from 40 to 60 %: log the cartridge first", 40)
    ('light grey rose from 40 to 60 %: log', 'the cartridge first')
    >>> in_two("Undone: Print #0412 deleted, it is back · U does it again", 56)
    ('Undone: Print #0412 deleted, it is back', 'U does it again')
    """
    if cell_len(said) <= width - 6:
        return "", said
    what, dot, then = said.rpartition(" · ")
    if dot and cell_len(what) <= width - 2 and cell_len(then) <= width - 6:
        return what, then
    upper, _, lower = said.partition(" ")
    while lower and cell_len(upper) + 1 + cell_len(lower.partition(" ")[0]) <= width - 2:
        word, _, lower = lower.partition(" ")
        upper = f"{upper} {word}"
    return upper, lower
