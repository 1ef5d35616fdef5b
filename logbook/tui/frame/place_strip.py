"""The names of the places with their digits, at the top of every screen."""

from __future__ import annotations

from textual import events
from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from logbook.tui.places import SPOTS


class PlaceStrip(Widget):
    """One line of place names; the open one stands out, a click opens one."""

    DEFAULT_CSS = """
    PlaceStrip { height: 1; padding: 0 1; color: $quiet; }
    """

    def __init__(self, opened: str) -> None:
        super().__init__()
        self.opened = opened

    def on_mount(self) -> None:
        """Follow what is said of the logbook beside the names."""
        self.watch(self.app, "sub_title", self._again, init=False)

    def _again(self) -> None:
        self.refresh()

    def render(self) -> RenderResult:
        names = Content("  ").join(
            Content.assemble((f"{spot.digit} ", "$quiet"), (spot.name, "$foreground bold underline"))
            if spot.name == self.opened
            else Content.styled(f"{spot.digit} {spot.name}", "$quiet")
            for spot in SPOTS
        )
        aside = self.app.sub_title
        room = self.content_size.width - names.cell_length - len(aside)
        return Content.assemble(names, " " * room, (aside, "$quiet")) if aside and room > 1 else names

    async def on_click(self, event: events.Click) -> None:
        """Open the place whose name was clicked."""
        left = 1
        for spot in SPOTS:
            width = len(spot.digit) + 1 + len(spot.name)
            if left <= event.x < left + width:
                await self.run_action(f"app.perform('open-{spot.mode}')")
            left += width + 2
