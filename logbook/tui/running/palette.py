"""The palette: every action by its name, whatever place it belongs to."""

from __future__ import annotations

from functools import partial
from typing import cast

from textual.app import App
from textual.command import CommandPalette, DiscoveryHit, Hit, Hits, Provider
from textual.content import Content

from logbook.tui.commands.command import Command, keys_text
from logbook.tui.places import SPOTS
from logbook.tui.places.place import AnyPlace
from logbook.tui.running.own_keys import every_command
from logbook.tui.shell import Shell

PROMPT = "What do you want to do? Type a word of it"
NOTHING = "No action has that in its name; try another word"
LESS = 0.01
"""The score of a command that is found by a word of its explanation: it comes after all that are found by name."""


class EveryCommand(Provider):
    """Offers the commands that can be performed in the open place first, then those of the other places."""

    @property
    def _logbook(self) -> Shell:
        return cast(Shell, self.app)

    def _offered(self) -> list[type[Command]]:
        here = cast(AnyPlace, self._logbook.place).COMMANDS_HERE
        everything = [command for command in every_command() if command.id() != "every-action"]
        reached = {"", *(spot.mode for spot in SPOTS)}  # what is done on a page is offered there alone
        return [*here, *(command for command in everything if command not in here and command.scope in reached)]

    async def discover(self) -> Hits:
        """Everything, before a letter is typed."""
        for command in self._offered():
            yield DiscoveryHit(self._name(command), self._do(command), command.title(), command.explanation())

    async def search(self, query: str) -> Hits:
        """What matches ``query`` in the name or in the explanation."""
        matcher, wanted, found = self.matcher(query), query.strip().casefold(), False
        for command in self._offered():
            explained = wanted in command.explanation().casefold()
            score = matcher.match(command.title()) or (LESS if explained else 0.0)
            if score > 0:
                found = True
                yield Hit(
                    score,
                    self._name(command, matcher.highlight(command.title())),
                    self._do(command),
                    command.title(),
                    command.explanation(),
                )
        if not found:
            yield Hit(LESS, NOTHING, lambda: None, NOTHING)

    def _name(self, command: type[Command], title: Content | None = None) -> Content:
        keys = self._logbook.keys_of(command.id())
        where = f" · {command.scope}" if command.scope else ""
        return Content.assemble(title or command.title(), "  ", (keys_text(keys) + where, "$quiet"))

    def _do(self, command: type[Command]) -> partial[None]:
        return partial(self._perform, command)

    async def _go_and_perform(self, command: type[Command]) -> None:
        if command.scope and command not in cast(AnyPlace, self._logbook.place).COMMANDS_HERE:
            await self._logbook.go(command.scope)
        await self._logbook.action_perform(command.id())

    def _perform(self, command: type[Command]) -> None:
        self._logbook.call_later(self._go_and_perform, command)


def open_palette(app: App[None]) -> None:
    """Lay the list of every action over the place, in our own words."""
    if not isinstance(app.screen, CommandPalette):
        app.push_screen(CommandPalette(placeholder=PROMPT, id="--command-palette"))
