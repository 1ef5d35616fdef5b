"""Darkness on one row of thirds of a stop, from darker to lighter."""

from __future__ import annotations

from typing import Any

from textual import events
from textual.app import ComposeResult
from textual.content import Content
from textual.message import Message
from textual.widget import Widget

from logbook.records.darkness import thirds_in_words, thirds_text
from logbook.tui.widgets.fields.field import Field

LOWEST, HIGHEST = -6, 6
TICK = 4
USUAL_WORDS = "1 is one third darker, + 1 lighter, 0 as on screen"
DARKER = ("minus", "left", "comma", "less_than_sign")
LIGHTER = ("plus", "right", "full_stop", "greater_than_sign", "equals_sign")


def tick_line() -> str:
    """The signed numbers, each centred over its place; the middle one is under "as on screen"."""
    return "".join(f"{thirds_text(third):^{TICK}}" for third in range(LOWEST, HIGHEST + 1))


class ThirdsScale(Widget, can_focus=True):
    """Three lines: the words at both ends, the numbers, and the mark with the darkness in words."""

    DEFAULT_CSS = """
    ThirdsScale { height: 3; width: 52; }
    """

    class Moved(Message):
        """The mark was put at ``thirds``, or taken away."""

        def __init__(self, thirds: int | None) -> None:
            super().__init__()
            self.thirds = thirds

    def __init__(self, thirds: int | None, words: str) -> None:
        super().__init__()
        self.thirds = thirds
        self._words = words
        self._lighter = False

    def render(self) -> Content:
        width = TICK * (HIGHEST - LOWEST + 1)
        ends = f"darker{'as on screen':^{width - 14}} lighter"
        return Content("\n").join([Content.styled(ends, "$quiet"), self._numbers(), self._mark(width)])

    def _numbers(self) -> Content:
        numbers = Content(tick_line()).stylize("$foreground" if self.has_focus else "$quiet")
        if self.thirds is not None:
            start = (self.thirds - LOWEST) * TICK
            numbers = numbers.stylize("bold $foreground", start, start + TICK)
        return numbers

    def _mark(self, width: int) -> Content:
        if self.thirds is None:
            words = self._words if self.has_focus else ""
            return Content.styled(f"{words:^{width}}", "$quiet")
        at = (self.thirds - LOWEST) * TICK + TICK // 2
        words = thirds_in_words(self.thirds)
        if at + 3 + len(words) <= width:
            return Content.assemble(" " * at, ("▲", "bold"), "  ", words)
        return Content.assemble(" " * (at - 2 - len(words)), words, "  ", ("▲", "bold"))

    def press(self, key: str) -> bool:
        """Move the mark by a key; whether the key means something here."""
        if key in DARKER:
            self._lighter = False
            self._move((self.thirds or 0) - 1)
        elif key in LIGHTER:
            self._lighter = True
            self._move((self.thirds or 0) + 1)
        elif key.isdigit() and len(key) == 1 and int(key) <= HIGHEST:
            self._move(int(key) if self._lighter else -int(key))
        elif key in ("backspace", "delete"):
            self.post_message(self.Moved(None))
        else:
            return False
        return True

    def _move(self, thirds: int) -> None:
        self.post_message(self.Moved(max(LOWEST, min(HIGHEST, thirds))))

    def on_key(self, event: events.Key) -> None:
        """Keys that move the mark; up and down leave the row."""
        if event.key in ("up", "down"):
            self.screen.focus_next() if event.key == "down" else self.screen.focus_previous()
        elif not self.press(event.key):
            return
        event.stop()

    def on_click(self, event: events.Click) -> None:
        """Put the mark where was clicked."""
        self._move(event.x // TICK + LOWEST)

    def on_focus(self) -> None:
        """Show what the keys do."""
        self.refresh()

    def on_blur(self) -> None:
        """Go quiet."""
        self.refresh()


class ThirdsRow(Field):
    """The darkness of a print; its value is thirds of a stop (-6 to 6, negative: darker) or ``None``.

    ``-`` and ``+`` move by a third; ``1`` to ``6`` are that many thirds darker, after ``+`` lighter; ``0`` is as on screen.
    The keys work from everywhere in the form where no text is typed.
    """

    how = "- darker, + lighter, in thirds of a stop · a digit alone is that many thirds darker, 0 as on screen"

    DEFAULT_CSS = """
    ThirdsRow { height: 3; }
    ThirdsRow > .label { padding: 1 0 0 0; height: 3; }
    ThirdsRow > .aside { display: none; }
    """

    def __init__(
        self, name: str = "darkness", label: str = "darkness", value: int | None = None, *, words: str = USUAL_WORDS
    ) -> None:
        super().__init__(name, label)
        self.scale = ThirdsScale(value, words)
        self.starts_with(value)

    def control(self) -> ComposeResult:
        yield self.scale

    def read(self) -> int | None:
        return self.scale.thirds

    def draft(self) -> Any:
        return self.scale.thirds

    def restore(self, kept: Any) -> None:
        self.scale.thirds = kept if isinstance(kept, int) and LOWEST <= kept <= HIGHEST else None
        self.scale.refresh()

    def focus(self, scroll_visible: bool = True) -> ThirdsRow:
        """Go to the row."""
        self.scale.focus(scroll_visible)
        return self

    def take_key(self, key: str) -> bool:
        return key not in ("left", "right", "backspace", "delete") and self.scale.press(key)

    def on_thirds_scale_moved(self, event: ThirdsScale.Moved) -> None:
        """Take the mark's new place."""
        event.stop()
        self.scale.thirds = event.thirds
        self.scale.refresh()
        self.changed()
