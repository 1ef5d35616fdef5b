"""The keys that matter now, on one line above the rule."""

from __future__ import annotations

from textual import events
from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from logbook.records.text import plain
from logbook.tui.commands.command import Command, key_text
from logbook.tui.frame.said_line import in_two
from logbook.tui.shell import Shell, shell_of


class HintLine(Widget):
    """As many hints as the width holds, each a key and what it does; a click does it. ``?`` always fits."""

    DEFAULT_CSS = """
    HintLine { height: 1; padding: 0 1; }
    """
    GAP = 3
    LAST = ("?", "help", "explain")

    def __init__(self, commands: tuple[type[Command], ...]) -> None:
        super().__init__()
        self.commands = commands

    @property
    def logbook(self) -> Shell:
        """The app, with its type."""
        return shell_of(self)

    def change(self, commands: tuple[type[Command], ...]) -> None:
        """Show other hints."""
        if commands != self.commands:
            self.commands = commands
            self.refresh()

    def _shown(self) -> list[tuple[str, str, str]]:
        """Key, words and command id of every hint that fits."""
        wanted = [
            (key_text(self.logbook.key_of(command.id())), command.label, command.id())
            for command in self.commands
            if command.possible(self.logbook)
        ]
        left = self.content_size.width - sum(map(len, self.LAST[:2])) - 1
        shown = []
        for key, words, name in wanted:
            left -= len(key) + 1 + len(words) + self.GAP
            if left < 0:
                break
            shown.append((key, words, name))
        return [*shown, self.LAST]

    def on_mount(self) -> None:
        """Make room for a sentence that is too long for the rule below."""
        self.watch(self.app, "said", self._again, init=False)

    def _again(self) -> None:
        self.refresh()

    def render(self) -> RenderResult:
        upper, _ = in_two(plain(self.logbook.said), self.app.size.width)
        if upper:
            return Content.styled(upper, "$asks").truncate(self.content_size.width, ellipsis=True)
        gap = Content(" " * self.GAP)
        return gap.join(Content.assemble((key, "$foreground bold"), " ", (words, "$quiet")) for key, words, _ in self._shown())

    async def on_click(self, event: events.Click) -> None:
        """Do what the clicked hint says."""
        left = 1
        for key, words, name in self._shown():
            width = len(key) + 1 + len(words)
            if left <= event.x < left + width:
                await self.run_action(f"app.perform('{name}')")
            left += width + self.GAP
