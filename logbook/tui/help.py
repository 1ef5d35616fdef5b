"""The page that `?` lays over a place: what the place is for, and its keys."""

from __future__ import annotations

import inspect
from typing import TYPE_CHECKING, ClassVar

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from logbook.tui import bench, everywhere
from logbook.tui.commands import Command, key_text

if TYPE_CHECKING:
    from logbook.tui.places.place import AnyPlace

KEYS_WIDTH = 16
MOVEMENT = (
    ("↑ ↓  k j", "go up and down", "In every list; page up, page down, g and G go further."),
    ("tab", "go on", "To the next part of the screen or of a form; shift+tab goes back."),
    ("enter", "open or save", "Open the chosen line; in a form, save it."),
    ("esc", "go back", "Leave a page, a search or a form; a half-filled form is kept."),
)


class Help(ModalScreen[None]):
    """Explains one place."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,question_mark,enter", "dismiss", "back", show=False),
        Binding("j,down", "down", show=False),
        Binding("k,up", "up", show=False),
    ]
    DEFAULT_CSS = """
    Help { background: $background; align: left top; }
    Help VerticalScroll { padding: 1 2; background: $background; }
    Help Static { width: 1fr; height: auto; padding: 0 0 1 0; }
    """

    def __init__(self, place: AnyPlace) -> None:
        super().__init__()
        self._place = place

    def compose(self) -> ComposeResult:
        keys = self._place.logbook.keymap_now()
        with VerticalScroll():
            yield Static(Content.styled(self._place.strip_name(), "bold"))
            yield Static(Content(_paragraphs(self._place)))
            for commands in (self._place.COMMANDS_HERE, bench.COMMANDS, everywhere.COMMANDS):
                if commands:
                    yield Static(Content("\n").join(_line(command, keys) for command in commands))
            yield Static(Content("\n").join(_words(*line) for line in MOVEMENT))
            yield Static(Content.styled("esc goes back", "$quiet"))

    def action_down(self) -> None:
        """Read on."""
        self.query_one(VerticalScroll).scroll_down(animate=False)

    def action_up(self) -> None:
        """Read back."""
        self.query_one(VerticalScroll).scroll_up(animate=False)


def _paragraphs(place: AnyPlace) -> str:
    """The place's docstring with its lines joined, paragraphs kept."""
    written = inspect.getdoc(type(place)) or ""
    return "\n\n".join(" ".join(paragraph.split()) for paragraph in written.split("\n\n"))


def _line(command: type[Command], keys: dict[str, tuple[str, ...]]) -> Content:
    shown = "  ".join(key_text(key) for key in keys.get(command.id(), command.keys()))
    return _words(shown, command.label, command.explanation())


def _words(keys: str, label: str, explanation: str) -> Content:
    return Content.assemble((f"{keys:<{KEYS_WIDTH}}", "bold"), f"{label:<22}", (explanation, "$quiet"))
