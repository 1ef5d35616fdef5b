"""A line to search in: the list below follows while one types."""

from __future__ import annotations

from typing import ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.message import Message
from textual.widget import Widget
from textual.widgets import Input, Static


class SearchInput(Input):
    """The line itself; down and enter go to what was found, escape clears."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("down,enter", "leave", show=False),
        Binding("escape", "clear", show=False),
    ]

    def action_leave(self) -> None:
        """To the list."""
        self.post_message(SearchLine.Left())

    def action_clear(self) -> None:
        """Search for nothing, and go to the list."""
        self.value = ""
        self.post_message(SearchLine.Left())


class SearchLine(Widget):
    """``/`` and what is looked for."""

    DEFAULT_CSS = """
    SearchLine { layout: horizontal; height: 2; width: 1fr; }
    SearchLine > Static { width: 2; color: $quiet; }
    SearchLine > SearchInput { width: 50; }
    SearchLine > SearchInput:focus { background: $panel; }
    """

    class Changed(Message):
        """Other words are looked for."""

        def __init__(self, value: str) -> None:
            super().__init__()
            self.value = value

    class Left(Message):
        """The person is done typing and wants the list."""

    def __init__(self, placeholder: str) -> None:
        super().__init__()
        self.input = SearchInput(placeholder=placeholder, compact=True, max_length=200)
        self.input.cursor_blink = False

    def compose(self) -> ComposeResult:
        yield Static(Content("/"))
        yield self.input

    def focus(self, scroll_visible: bool = True) -> SearchLine:
        """Go into the line."""
        self.input.focus(scroll_visible)
        return self

    def on_input_changed(self, event: Input.Changed) -> None:
        """Tell the place."""
        event.stop()
        self.post_message(self.Changed(event.value))
