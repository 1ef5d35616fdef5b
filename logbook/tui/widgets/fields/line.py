"""One line to type in."""

from __future__ import annotations

from typing import ClassVar

from textual.binding import Binding, BindingType
from textual.widgets import Input


class Line(Input):
    """Textual's input on one line without a box; up and down leave it for the field before or after."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("up", "screen.focus_previous", show=False),
        Binding("down", "screen.focus_next", show=False),
    ]
    DEFAULT_CSS = """
    Line { width: 32; }
    """

    def __init__(self, value: str = "", *, placeholder: str = "", width: int = 32, max_length: int = 4000) -> None:
        super().__init__(value, placeholder=placeholder, max_length=max_length, compact=True)
        self.styles.width = width
        self.cursor_blink = False
