"""A field that turns through a few values in little room."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widget import Widget

from logbook.records.text import plain
from logbook.tui.widgets.fields.choice_row import ONE, Choice
from logbook.tui.widgets.fields.field import Field


class Turning(Widget, can_focus=True):
    """The value in words: left and right turn to another, a letter to the next that begins with it."""

    DEFAULT_CSS = """
    Turning { width: 24; height: 1; }
    """

    class Turned(Message):
        """The value at ``at`` was turned to."""

        def __init__(self, at: int) -> None:
            super().__init__()
            self.at = at

    def __init__(self, choices: Sequence[Choice], at: int) -> None:
        super().__init__()
        self.choices = tuple(choices)
        self.at = at

    def render(self) -> Content:
        choice = self.choices[self.at]
        words = Content.styled(plain(choice.words), "$quiet" if choice.value is None else "$foreground")
        return Content.assemble(("‹ ", "$quiet"), words.stylize("bold"), (" ›", "$quiet")) if self.has_focus else words

    def on_key(self, event: events.Key) -> None:
        """Arrows, space and first letters turn; up and down leave the field."""
        if event.key in ("left", "right", "space"):
            self._turn((self.at + (-1 if event.key == "left" else 1)) % len(self.choices))
        elif event.key in ("up", "down"):
            self.screen.focus_next() if event.key == "down" else self.screen.focus_previous()
        elif event.key in ("backspace", "delete"):
            self._turn(self._of_none())
        elif not (event.character and self._begin(event.character)):
            return
        event.stop()

    def _begin(self, letter: str) -> bool:
        after = [*range(self.at + 1, len(self.choices)), *range(self.at + 1)]
        found = next((at for at in after if self.choices[at].words.casefold().startswith(letter.casefold())), None)
        if found is not None:
            self._turn(found)
        return found is not None

    def _of_none(self) -> int:
        return next((at for at, choice in enumerate(self.choices) if choice.value is None), self.at)

    def _turn(self, at: int) -> None:
        self.at = at
        self.refresh()
        self.post_message(self.Turned(at))

    def on_click(self) -> None:
        """A click turns on."""
        self._turn((self.at + 1) % len(self.choices))

    def on_focus(self) -> None:
        """Show that it can be turned."""
        self.refresh()

    def on_blur(self) -> None:
        """Go quiet."""
        self.refresh()


class TurnField(Field):
    """One of a few values. Its value is that of the choice, which may be ``None``."""

    how = ONE

    def __init__(self, name: str, label: str, choices: Sequence[Choice], value: Any = None, *, aside: str = "") -> None:
        super().__init__(name, label, aside=aside)
        self.turning = Turning(choices, 0)
        self.give(value)

    def control(self) -> ComposeResult:
        yield self.turning

    def read(self) -> Any:
        return self.turning.choices[self.turning.at].value

    def draft(self) -> Any:
        return self.read()

    def restore(self, kept: Any) -> None:
        places = [at for at, choice in enumerate(self.turning.choices) if _same(choice.value, kept)]
        self.turning.at = places[0] if places else self.turning.at
        self.turning.refresh()

    def focus(self, scroll_visible: bool = True) -> TurnField:
        """Go to the value."""
        self.turning.focus(scroll_visible)
        return self

    def on_turning_turned(self, event: Turning.Turned) -> None:
        """Tell the form."""
        event.stop()
        self.changed()


def _same(one: Any, other: Any) -> bool:
    """Whether both are equal; ``True`` and 1 are not."""
    return bool(one == other) and isinstance(one, bool) is isinstance(other, bool)
