"""The page that `?` lays over a place or a form: what it is for, and its keys."""

from __future__ import annotations

import inspect
import textwrap
from collections.abc import Iterable, Sequence
from typing import TYPE_CHECKING, ClassVar, Protocol

from textual.app import ComposeResult
from textual.binding import Binding, BindingType
from textual.containers import VerticalScroll
from textual.content import Content
from textual.screen import ModalScreen
from textual.widgets import Static

from logbook.tui.commands import bench, everywhere
from logbook.tui.commands.command import MOVEMENT, Command, key_text

if TYPE_CHECKING:
    from logbook.tui.shell import Shell

KEYS_WIDTH = 16
LABEL_WIDTH = 22
LEAST_BESIDE = 26
"""Cells under which an explanation stands below its key."""


class Explained(Protocol):
    """What can be explained: a place, or a form."""

    COMMANDS_HERE: ClassVar[tuple[type[Command], ...]]

    @property
    def logbook(self) -> Shell:
        """The program."""

    @property
    def is_modal(self) -> bool:
        """Whether nothing but its own keys works."""

    def strip_name(self) -> str:
        """What it is called."""

    def how_it_is_filled_in(self) -> Sequence[tuple[str, str]]:
        """Labels of fields, and how those are filled in."""


class Help(ModalScreen[None]):
    """Explains one place, or one form and how its fields are filled in."""

    BINDINGS: ClassVar[list[BindingType]] = [
        Binding("escape,q,question_mark,enter", "dismiss", "back", show=False),
        Binding("j,down", "down", show=False),
        Binding("k,up", "up", show=False),
    ]
    DEFAULT_CSS = """
    Help { background: $background; align: left top; }
    Help VerticalScroll { padding: 1 2; background: $background; }
    Help Static { width: 1fr; height: auto; }
    """

    def __init__(self, place: Explained) -> None:
        super().__init__()
        self._place = place

    def compose(self) -> ComposeResult:
        with VerticalScroll():
            yield Static("")

    def on_resize(self) -> None:
        """Fold the explanations to the width there is."""
        self.query_one(Static).update(Content("\n\n").join(self._parts(self.size.width - 6)))

    def _parts(self, width: int) -> Iterable[Content]:
        app = self._place.logbook
        yield Content.styled(self._place.strip_name(), "bold")
        yield Content("\n\n".join(textwrap.fill(paragraph, min(width, 76)) for paragraph in _paragraphs(self._place)))
        if how := self._place.how_it_is_filled_in():
            yield Content("\n".join(textwrap.fill(f"{labels}: {words}.", min(width, 76)) for labels, words in how))
        everywhere_else = () if self._place.is_modal else (bench.COMMANDS, everywhere.COMMANDS)
        for commands in (self._place.COMMANDS_HERE, *everywhere_else):
            if commands:
                yield Content("\n").join(_line(command, app, width) for command in commands)
        yield Content("\n").join(_words(*line, width) for line in MOVEMENT)
        yield Content.styled("esc goes back", "$quiet")

    def action_down(self) -> None:
        """Read on."""
        self.query_one(VerticalScroll).scroll_down(animate=False)

    def action_up(self) -> None:
        """Read back."""
        self.query_one(VerticalScroll).scroll_up(animate=False)


def _paragraphs(place: Explained) -> list[str]:
    """The paragraphs of the place's docstring."""
    return [" ".join(paragraph.split()) for paragraph in (inspect.getdoc(type(place)) or "").split("\n\n")]


def _line(command: type[Command], app: Shell, width: int) -> Content:
    shown = "  ".join(key_text(key) for key in app.keys_of(command.id()))
    return _words(shown, command.label, command.explanation(), width)


def _words(keys: str, label: str, explanation: str, width: int) -> Content:
    """Keys, what they do, and why; the explanation folded beside them, or under them where there is little room."""
    indent = KEYS_WIDTH + LABEL_WIDTH
    beside = min(width, 108) - indent
    keys, short = f"{keys:<{KEYS_WIDTH - 2}}  ", len(keys) < KEYS_WIDTH - 1 and len(label) < LABEL_WIDTH - 1
    if beside >= LEAST_BESIDE and short:
        first, *more = textwrap.wrap(explanation, beside) or [""]
        rest = "".join(f"\n{' ' * indent}{line}" for line in more)
        return Content.assemble((keys, "bold"), f"{label:<{LABEL_WIDTH}}", (first + rest, "$quiet"))
    under = "".join(f"\n    {line}" for line in textwrap.wrap(explanation, max(20, width - 4)))
    return Content.assemble((keys, "bold"), label, (under, "$quiet"))
