"""Words that are drawn anew only where they change."""

from __future__ import annotations

from textual.content import Content
from textual.widgets import Static


class Words(Static):
    """A line or more of words. It asks for a new layout, which lays out the whole form, only where its size may change."""

    def __init__(self, words: str = "", *, id: str | None = None, classes: str | None = None) -> None:
        self._said = Content(words)
        super().__init__(self._said, id=id, classes=classes, markup=False)

    def say(self, words: str | Content) -> None:
        """Show these words instead."""
        new = Content(words) if isinstance(words, str) else words
        if not new.is_same(self._said):
            self._said = new
            self.update(new, layout=self.styles.auto_dimensions)
