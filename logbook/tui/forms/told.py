"""A few sentences laid over what is open; any key that ends things takes them away."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import Vertical, VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from logbook.records.text import plain


class Told(ModalScreen[None]):
    """What was asked, answered in sentences."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,enter,q,space", "dismiss", show=False),
        Binding("down,j", "read_on(1)", show=False),
        Binding("up,k", "read_on(-1)", show=False),
    ]
    DEFAULT_CSS = """
    Told { align: center middle; background: $background 60%; }
    Told > Vertical {
        width: 72; max-width: 96%; height: auto; max-height: 80%; padding: 1 2;
        background: $background; border-top: solid $rule; border-bottom: solid $rule;
    }
    Told VerticalScroll { height: auto; max-height: 16; }
    Told Static { height: auto; }
    Told #asked { text-style: bold; padding: 0 0 1 0; }
    Told #close { color: $quiet; padding: 1 0 0 0; }
    """

    CLOSE = "esc goes back"
    """What can be pressed, below the sentences."""

    def __init__(self, asked: str, sentences: Sequence[str]) -> None:
        super().__init__()
        self._asked = asked
        self._sentences = tuple(sentences)

    def compose(self) -> ComposeResult:
        with Vertical():
            yield Static(Content(plain(self._asked)), id="asked")
            with VerticalScroll():
                yield Static(Content("\n".join(plain(sentence) for sentence in self._sentences)), id="told")
            yield Static(self.CLOSE, id="close", markup=False)

    def action_read_on(self, by: int) -> None:
        """Scroll, where there is more than fits."""
        self.query_one(VerticalScroll).scroll_relative(y=by, animate=False)
