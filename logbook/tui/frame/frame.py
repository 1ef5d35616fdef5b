"""What every screen has around it: the names of the places, the keys that matter, and the standing line."""

from __future__ import annotations

from collections.abc import Sequence
from typing import ClassVar

from textual.app import ComposeResult
from textual.containers import Container
from textual.screen import Screen

from logbook.tui.commands.command import Command, bindings
from logbook.tui.frame.hint_line import HintLine
from logbook.tui.frame.place_strip import PlaceStrip
from logbook.tui.frame.said_line import SaidLine
from logbook.tui.frame.standing_line import StandingLine
from logbook.tui.shell import Shell, shell_of


class Frame(Screen[None]):
    """A screen with the frame; subclasses yield their own part from ``body`` and name their commands."""

    COMMANDS_HERE: ClassVar[tuple[type[Command], ...]] = ()
    HINTS: ClassVar[tuple[str, ...]] = ()

    def __init_subclass__(cls) -> None:
        if "COMMANDS_HERE" in cls.__dict__ and "BINDINGS" not in cls.__dict__:
            cls.BINDINGS = bindings(cls.COMMANDS_HERE)
        super().__init_subclass__()

    @property
    def logbook(self) -> Shell:
        """The app, with its type."""
        return shell_of(self)

    def compose(self) -> ComposeResult:
        yield PlaceStrip(self.strip_name())
        with Container(id="body"):
            yield from self.body()
        yield HintLine(self.hints())
        yield SaidLine()
        yield StandingLine()

    def body(self) -> ComposeResult:
        """The widgets between the strip and the hints."""
        yield from ()

    def strip_name(self) -> str:
        """The place shown as open in the strip of names."""
        return ""

    def how_it_is_filled_in(self) -> Sequence[tuple[str, str]]:
        """A place has nothing to fill in."""
        return ()

    def hints(self) -> tuple[type[Command], ...]:
        """The commands whose keys are shown at the bottom, most wanted first."""
        if self.HINTS:
            return tuple(Command.registry[name] for name in self.HINTS if name in Command.registry)
        return tuple(command for command in self.COMMANDS_HERE if command.hinted)
