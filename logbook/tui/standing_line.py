"""The line that never leaves the screen: how the printer stands, and whether a batch is due."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from textual.app import RenderResult
from textual.content import Content
from textual.widget import Widget

from logbook.records.text import plain

if TYPE_CHECKING:
    from logbook.reports.standing import Standing


class StandingLine(Widget):
    """The newest ``Standing`` the app has read; empty until there is one."""

    DEFAULT_CSS = """
    StandingLine { height: 1; padding: 0 1; }
    """

    def on_mount(self) -> None:
        """Follow what the app reads."""
        self.watch(self.app, "standing", lambda: self.refresh(), init=False)

    def render(self) -> RenderResult:
        standing = cast("Standing | None", self.app.standing)  # type: ignore[attr-defined]
        return standing_words(standing, self.content_size.width) if standing is not None else Content("")


def standing_words(standing: Standing, width: int) -> Content:
    """The parts of the line, as many as fit; the verdict keeps its place however narrow it gets."""
    parts = [Content.assemble((part.name, "$quiet"), part.value) for part in _parts(standing)]
    verdict = Content.styled(plain(standing.verdict), "$asks bold" if standing.due else "$foreground")
    for gap in ("   ", "  "):
        line = Content(gap).join([*parts, verdict] if standing.verdict else parts)
        if line.cell_length <= width:
            return line
    while len(parts) > 1 and Content("  ").join([*parts, verdict]).cell_length > width:
        parts.pop()
    return Content("  ").join([*parts, verdict])


class _Part:
    """A quiet word and the value it names."""

    def __init__(self, name: str, value: str) -> None:
        self.name = name
        self.value = value


def _parts(standing: Standing) -> list[_Part]:
    parts = [_Part("", f"{standing.loaded} loaded")] if standing.loaded else [_Part("no printer yet", "")]
    if standing.lowest_ink is not None and standing.lowest_percent is not None:
        parts.append(_Part("lowest: ", f"{plain(standing.lowest_ink.replace('_', ' '))} {standing.lowest_percent:.0f} %"))
    if standing.roll_left_mm is not None:
        parts.append(_Part("roll ", f"{max(0.0, standing.roll_left_mm) / 1000:.1f} m"))
    parts.append(_Part("waiting: ", f"matte {standing.waiting.matte}, photo {standing.waiting.photo}"))
    return parts
