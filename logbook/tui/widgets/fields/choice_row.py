"""A row of choices, one key each."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widget import Widget

from logbook.records.text import plain
from logbook.tui.widgets.fields.field import Field

GAP = 2


ONE = "a letter, ← → or space chooses"
SEVERAL = "letters choose, or ← → and space"


@dataclass(frozen=True)
class Choice:
    """What is stored, what is read on the screen, and the key that chooses it (``""``: none)."""

    value: Any
    words: str
    key: str = ""


class ChoiceKeys(Widget, can_focus=True):
    """The row itself: a letter, left and right or space choose, a click chooses; of ``several`` the arrows only move."""

    DEFAULT_CSS = """
    ChoiceKeys { width: auto; height: 1; min-width: 32; }
    """

    class Pressed(Message):
        """The choice at ``at`` was pressed; None: none is chosen any more."""

        def __init__(self, at: int | None) -> None:
            super().__init__()
            self.at = at

    def __init__(self, choices: Sequence[Choice], *, several: bool) -> None:
        super().__init__()
        self.choices = tuple(choices)
        self.several = several
        self.chosen: tuple[int, ...] = ()
        self.at = 0

    def get_content_width(self, container: Any, viewport: Any) -> int:
        """Room for the whole row."""
        return sum(map(_width, self.choices)) + GAP * (len(self.choices) - 1)

    def render(self) -> Content:
        return Content(" " * GAP).join(self._word(at, choice) for at, choice in enumerate(self.choices))

    def _word(self, at: int, choice: Choice) -> Content:
        chosen = at in self.chosen
        words = Content(plain(choice.words))
        letter = choice.words.casefold().find(choice.key.casefold()) if choice.key else -1
        if letter >= 0:
            words = words.stylize("underline", letter, letter + 1)
        words = words.stylize("bold $foreground" if chosen else "$quiet")
        here = "›" if self.has_focus and at == self.at else " "
        return Content.assemble((here, "$foreground"), ("●" if chosen else " ", "$foreground"), " ", words)

    def on_key(self, event: events.Key) -> None:
        """The keys that choose; up and down leave the row."""
        if event.key in ("left", "right", "space"):
            self._go(event.key)
        elif event.key in ("up", "down"):
            self.screen.focus_next() if event.key == "down" else self.screen.focus_previous()
        elif event.key in ("backspace", "delete"):
            self.post_message(self.Pressed(None))
        elif (at := self._meant(event.character)) is not None:
            self.post_message(self.Pressed(at))
        else:
            return
        event.stop()

    def _go(self, key: str) -> None:
        """To the choice beside the one that is pointed at, where one of several is chosen by pointing at it."""
        by = -1 if key == "left" else 1
        beside = (self.at + by) % len(self.choices) if self.chosen or self.several else 0 if by > 0 else len(self.choices) - 1
        if not self.several:
            self.post_message(self.Pressed(beside))
        elif key == "space":
            self.post_message(self.Pressed(self.at))
        else:
            self.at = beside
            self.refresh()

    def _meant(self, letter: str | None) -> int | None:
        """The choice that a letter chooses: the one it is underlined in, else the next one that begins with it."""
        if not letter:
            return None
        keys = [at for at, choice in enumerate(self.choices) if choice.key == letter]
        onward = [*range(self.at + 1, len(self.choices)), *range(self.at + 1)]
        return next(iter(keys or (at for at in onward if self.choices[at].words.casefold().startswith(letter.casefold()))), None)

    def on_click(self, event: events.Click) -> None:
        """Choose what was clicked."""
        left = 0
        for at, choice in enumerate(self.choices):
            if left <= event.x < left + _width(choice):
                self.post_message(self.Pressed(at))
            left += _width(choice) + GAP

    def on_focus(self) -> None:
        """Start at what is chosen."""
        self.at = self.chosen[0] if self.chosen else self.at
        self.refresh()

    def on_blur(self) -> None:
        """Take the pointer away."""
        self.refresh()


def _width(choice: Choice) -> int:
    """Room for a choice and the two signs before it."""
    return len(choice.words) + 3


class ChoiceRow(Field):
    """Choose one of a few, or ``several``. Choosing what is chosen takes it back, unless it is ``required``.

    The underlined letters work from everywhere in the form where no text is typed. Its value is that of the choice or ``None``;
    with ``several`` a tuple.
    """

    def __init__(
        self, name: str, label: str, choices: Sequence[Choice], value: Any = None, *, several: bool = False,
        required: bool = False, aside: str = "",
    ) -> None:  # fmt: skip
        super().__init__(name, label, aside=aside)
        self.several = several
        self.required = required
        self.how = SEVERAL if several else ONE
        self.row = ChoiceKeys(choices, several=several)
        self._set(value)
        self.starts_with(value)

    def control(self) -> ComposeResult:
        yield self.row

    @property
    def choices(self) -> tuple[Choice, ...]:
        """All there is to choose from."""
        return self.row.choices

    def read(self) -> Any:
        chosen = tuple(self.choices[at].value for at in self.row.chosen)
        if self.several:
            return chosen
        return chosen[0] if chosen else None

    def draft(self) -> Any:
        return list(self.read()) if self.several else self.read()

    def restore(self, kept: Any) -> None:
        self._set(kept)
        self.row.refresh()

    def choose(self, value: Any) -> None:
        """Choose a value (several: a sequence of them) from the program."""
        self.restore(value)

    def _set(self, value: Any) -> None:
        wanted = list(value or ()) if self.several else [value]
        self.row.chosen = tuple(at for at, choice in enumerate(self.choices) if choice.value in wanted)

    def focus(self, scroll_visible: bool = True) -> ChoiceRow:
        """Go to the row."""
        self.row.focus(scroll_visible)
        return self

    def take_key(self, key: str) -> bool:
        for at, choice in enumerate(self.choices):
            if choice.key and key == choice.key:
                self.press(at)
                return True
        return False

    def press(self, at: int | None) -> None:
        """Choose, or take back, the choice at ``at``; without one, whatever is chosen."""
        chosen = self.row.chosen
        if at is None:
            self.row.chosen, at = chosen if self.required else (), self.row.at
        elif at in chosen:
            if not (self.required and len(chosen) == 1):
                self.row.chosen = tuple(other for other in chosen if other != at)
        else:
            self.row.chosen = tuple(sorted((*chosen, at))) if self.several else (at,)
        self.row.at = at
        self.row.refresh()
        self.changed()

    def on_choice_keys_pressed(self, event: ChoiceKeys.Pressed) -> None:
        """Space or a click in the row."""
        event.stop()
        self.press(event.at)


def switch(name: str, label: str, value: bool | None = None, *, key: str = "", aside: str = "") -> ChoiceRow:
    """A yes-or-no setting that may also be left unsaid; ``key`` chooses "on"."""
    return ChoiceRow(name, label, [Choice(True, "on", key), Choice(False, "off")], value, aside=aside)
