"""The line under a form's fields that shows what would complete the word being typed."""

from __future__ import annotations

from collections.abc import Sequence

from textual.content import Content
from textual.widgets import Static

from logbook.records.text import plain


class Offers(Static):
    """What would complete the word being typed; the marked one is taken by enter or tab."""

    DEFAULT_CSS = """
    Offers { height: 2; padding: 0 1; color: $quiet; }
    """

    def offer(self, words: Sequence[str], at: int) -> None:
        """Show other offers."""
        parts = [
            Content.assemble(("› ", "$foreground"), (plain(word), "bold $foreground")) if place == at else Content(plain(word))
            for place, word in enumerate(words)
        ]
        self.update(Content("   ").join(parts))
