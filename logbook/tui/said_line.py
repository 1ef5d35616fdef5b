"""The thin rule above the standing line; what was just saved is set into it, so that nothing moves."""

from __future__ import annotations

from typing import cast

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

    def _again(self) -> None:
        self.refresh()

    def render(self) -> RenderResult:
        said = plain(cast(str, self.app.said))  # type: ignore[attr-defined]
        width = self.content_size.width
        if not said:
            return Content.styled("─" * width, "$rule")
        sentence = Content(f" {said} ").truncate(width - 4, ellipsis=True)
        rest = max(0, width - 2 - sentence.cell_length)
        return Content.assemble(("──", "$rule"), sentence.stylize("$asks"), ("─" * rest, "$rule"))
