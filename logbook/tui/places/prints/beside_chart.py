"""The chart that the screen shows beside a print, for one shot of both: drawn over the whole terminal."""

from __future__ import annotations

from typing import TYPE_CHECKING, ClassVar

from rich.segment import Segment
from rich.style import Style
from textual import events
from textual.app import App, ComposeResult
from textual.binding import Binding, BindingType
from textual.content import Content
from textual.screen import ModalScreen
from textual.strip import Strip
from textual.widget import Widget
from textual.widgets import Static

from logbook.tui.commands.command import Command
from logbook.tui.running.settings import read_settings, settings_path
from logbook.tui.widgets.picture_view import CELL_PX, image_widget, kind_for

if TYPE_CHECKING:
    from logbook.picture.file import Pixels
    from logbook.tui.shell import Shell

LEAST_CELLS = (128, 36)
"""A half cell for each unit of the chart: coarser, and a shot of it cannot be read."""
INSTEAD = "Write it with logbook measure --beside --to chart.png, and show that on the whole screen."


class ShowTheChart(Command):
    """Fill the screen with the chart: hang a printed strip or wedge beside it, and take both in one shot for its darkness."""

    key, label, scope, hinted = "B", "chart beside the print", "prints", False

    async def run(self, app: Shell) -> None:
        app.push_screen(BesideChart(app.settings.pictures))


class BesideChart(ModalScreen[None]):
    """The chart, or a sentence that says why this terminal cannot show it. Any key takes it away."""

    BINDINGS: ClassVar[list[BindingType]] = [Binding("escape,enter,q,space,B", "dismiss", show=False)]
    DEFAULT_CSS = """
    BesideChart { background: #ffffff; }
    BesideChart > * { width: 1fr; height: 1fr; }
    BesideChart > Static { padding: 1 2; color: #000000; }
    """

    def __init__(self, pictures: str = "") -> None:
        """``pictures`` is how the settings have them drawn."""
        super().__init__()
        self._kind = kind_for(pictures)

    def compose(self) -> ComposeResult:
        """The chart as large as the terminal is now."""
        from logbook.picture.wedge import screen_page

        size = self.app.size
        colours = "truecolor" if self.app.is_headless else self.app.console.color_system
        why = why_not(self._kind, size.width, size.height, colours, colourless=self.app.no_color)
        if why:
            yield Static(Content(f"{why} {INSTEAD}"))
            return
        across, down, _ = CELL_PX[self._kind]
        page = screen_page((size.width * across, size.height * down))
        yield HalfCells(page.pixels) if self._kind == "half cells" else image_widget(self._kind)(page.image())

    async def on_resize(self, event: events.Resize) -> None:
        """Draw it anew."""
        await self.recompose()


class HalfCells(Widget):
    """Pixels (rows, columns, 3), two to a cell, each exactly in its own colour."""

    def __init__(self, pixels: Pixels) -> None:
        super().__init__()
        self._pixels = pixels

    def render_line(self, y: int) -> Strip:
        """Of each column the upper half in the letter's colour, the lower one in the ground's."""
        if 2 * y + 1 >= len(self._pixels):
            return Strip.blank(self.size.width)
        upper, lower = self._pixels[2 * y], self._pixels[2 * y + 1]
        return Strip(
            [Segment("▀", Style(color=_rgb(top), bgcolor=_rgb(bottom))) for top, bottom in zip(upper, lower, strict=True)]
        )


class ChartAlone(App[None]):
    """The chart without the logbook, until a key is pressed."""

    def on_mount(self) -> None:
        """Nothing but the chart."""
        self.push_screen(BesideChart(read_settings(settings_path()).pictures), lambda _: self.exit())


def why_not(kind: str, columns: int, rows: int, colours: str | None, *, colourless: bool) -> str:
    """What keeps a terminal from showing the chart truly; empty where nothing does.

    >>> why_not("half cells", 80, 24, "truecolor", colourless=False)
    'The chart needs 128 columns and 36 rows here, and there are 80 and 24: fill the screen, or make the letters smaller.'
    >>> why_not("half cells", 200, 60, "truecolor", colourless=False), why_not("sixel", 80, 24, "256", colourless=False)
    ('', '')
    """
    if colourless:
        return "The chart needs colours, and NO_COLOR is set."
    if kind != "half cells":
        return ""
    if colours != "truecolor":
        return "This terminal names too few colours for the chart's greys (COLORTERM does not say truecolor)."
    if columns < LEAST_CELLS[0] or rows < LEAST_CELLS[1]:
        need = f"{LEAST_CELLS[0]} columns and {LEAST_CELLS[1]} rows"
        return f"The chart needs {need} here, and there are {columns} and {rows}: fill the screen, or make the letters smaller."
    return ""


def _rgb(pixel: Pixels) -> str:
    red, green, blue = (int(value) for value in pixel)
    return f"#{red:02x}{green:02x}{blue:02x}"
