"""One line to type in."""

from __future__ import annotations

from typing import ClassVar

from textual import events
from textual.binding import Binding, BindingType
from textual.geometry import Size
from textual.reactive import Reactive
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
    virtual_size = Reactive(Size(0, 0))  # a longer text scrolls in a line of the same width: the form is not laid out anew

    def __init__(self, value: str = "", *, placeholder: str = "", width: int = 32, max_length: int = 4000) -> None:
        super().__init__(value, placeholder=placeholder, max_length=max_length, compact=True)
        self.styles.width = width
        self.cursor_blink = False

    @property
    def is_fresh(self) -> bool:
        """Whether the next sign is the first: nothing stands in it, or all of it is selected and will be replaced."""
        return len(self.selected_text) == len(self.value)

    async def on_key(self, event: events.Key) -> None:
        """A question mark before anything else asks for help: nothing begins with one."""
        if event.key == "question_mark" and self.is_fresh:
            event.stop()
            event.prevent_default()
            await self.run_action("app.perform('explain')")
