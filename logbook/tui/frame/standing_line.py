"""The line that never leaves the screen: how the printer stands, and whether a batch is due."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from logbook.records.units import roll_text
from logbook.records.wording import ink_text

if TYPE_CHECKING:
    from logbook.reports.bench.standing import Standing


class StandingLine(Widget):
    """The newest ``Standing`` the app has read; empty until there is one."""

    DEFAULT_CSS = """
    StandingLine { height: 1; padding: 0 1; }
    """

    def on_mount(self) -> None:
        """Follow what the app reads."""
        self.watch(self.app, "standing", self._again, init=False)

    def _again(self) -> None:
        self.refresh()

    def render(self) -> RenderResult:
        standing = cast("Standing | None", self.app.standing)  # type: ignore[attr-defined]
        return standing_words(standing, self.content_size.width) if standing is not None else Content("")


def standing_words(standing: Standing, width: int) -> Content:
    """The parts of the line; where the width is short, fewer words say the same."""
    from logbook.reports.batch.words import due_text

    usual, short, batch = _parts(standing), _short_parts(standing), standing.batch
    for parts, briefly, gap in ((usual, False, "   "), (usual, False, "  "), (short, False, "  "), (short, True, "  ")):
        due = [Content.styled(due_text(batch, short=briefly), "$asks bold" if batch.now else "$foreground")] if batch else []
        line = Content(gap).join([*parts, *due])
        if line.cell_length <= width:
            return line
    return line.truncate(width, ellipsis=True)


def _parts(standing: Standing) -> list[Content]:
    parts = [_part("", f"{standing.loaded} loaded") if standing.loaded else _part("no printer yet", "")]
    if standing.lowest_ink is not None and standing.lowest_percent is not None:
        level = f"{ink_text(standing.lowest_ink)} {standing.lowest_percent:.0f} %"
        parts.append(Content.styled(f"low: {level}", "$asks bold") if standing.low else _part("lowest: ", level))
    if standing.roll_left_mm is not None:
        parts.append(_part("roll ", roll_text(max(0.0, standing.roll_left_mm))))
    waiting = standing.waiting
    return [*parts, _part("waiting: ", f"matte {waiting.matte}, photo {waiting.photo}")]


def _short_parts(standing: Standing) -> list[Content]:
    """The same for 80 columns."""
    parts = [_part("", f"{standing.loaded} in") if standing.loaded else _part("no printer yet", "")]
    if standing.lowest_ink is not None and standing.lowest_percent is not None:
        level = f"{short_ink(standing.lowest_ink)} {standing.lowest_percent:.0f}%"
        parts.append(Content.styled(f"low {level}", "$asks bold") if standing.low else _part("", level))
    if standing.roll_left_mm is not None:
        parts.append(_part("roll ", roll_text(max(0.0, standing.roll_left_mm)).replace(" ", "")))
    waiting = standing.waiting
    return [*parts, _part("wait ", f"matte {waiting.matte}, photo {waiting.photo}")]


def short_ink(ink: str) -> str:
    """An ink's name for a narrow line; of the blacks only the loaded one is shown.

    >>> short_ink("light_magenta"), short_ink("matte_black")
    ('lt magenta', 'black')
    """
    words = ink_text(ink)
    return "black" if words in ("matte black", "photo black") else words.replace("light ", "lt ")


def _part(name: str, value: str) -> Content:
    return Content.assemble((name, "$quiet"), value)
