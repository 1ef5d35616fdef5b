"""A picture in the terminal: half cells everywhere, finer where the settings say the terminal can."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Mapping
from typing import Any

from textual.app import ComposeResult
from textual.content import Content
from textual.widget import Widget
from textual.widgets import Static

CELL_PX: dict[str, tuple[int, int, int]] = {"half cells": (1, 2, 1), "kitty": (8, 16, 3), "sixel": (8, 16, 3)}
"""By the way pictures are drawn: pixels across and down a cell, and how wide the marks' lines are."""


def image_widget(kind: str) -> type[Any]:
    """The widget class of textual-image for ``kind`` (``half cells``, ``kitty`` or ``sixel``).

    The package asks the terminal what it can do when it is imported. By then the terminal is the program's: the
    answer would be read as keys. So it is imported with no terminal to ask.
    """
    real = sys.__stdout__
    sys.__stdout__ = io.StringIO()  # type: ignore[misc,assignment]
    try:
        from textual_image import widget
        from textual_image.widget.sixel import Image as SixelImage
    finally:
        sys.__stdout__ = real  # type: ignore[misc]
    return {"kitty": widget.TGPImage, "sixel": SixelImage}.get(kind, widget.HalfcellImage)


def kind_for(setting: str, environ: Mapping[str, str] = os.environ) -> str:
    """How pictures are drawn: as the settings say; else by the one terminal variable that is a sure sign.

    >>> kind_for("", {"KITTY_WINDOW_ID": "1"}), kind_for("sixel", {}), kind_for("", {})
    ('kitty', 'sixel', 'half cells')
    """
    return setting or ("kitty" if environ.get("KITTY_WINDOW_ID") else "half cells")


class PictureView(Widget):
    """Shows a small image, or says in words why there is none."""

    DEFAULT_CSS = """
    PictureView { width: 24; height: 10; }
    PictureView > * { width: 1fr; height: 1fr; }
    PictureView > Static { color: $quiet; }
    """

    def __init__(self, *, id: str | None = None) -> None:
        super().__init__(id=id)
        self._size_px: tuple[int, int] | None = None

    def compose(self) -> ComposeResult:
        yield Static("")

    async def show(self, image: object | None, words: str, kind: str) -> None:
        """Show ``image`` (as Pillow opened it), or else ``words``."""
        self._size_px = image.size if image is not None else None  # type: ignore[attr-defined]
        shown = Static(Content(words)) if image is None else image_widget(kind)(image)
        self._fit(shown)
        with self.app.batch_update():
            await self.remove_children()
            await self.mount(shown)

    def on_resize(self) -> None:
        """Fit the picture into the new room."""
        for shown in self.children:
            self._fit(shown)

    def _fit(self, shown: Widget) -> None:
        if self._size_px is not None and self.size:
            shown.styles.width, shown.styles.height = fitted(*self._size_px, self.size.width, self.size.height)


def fitted(width_px: int, height_px: int, columns: int, rows: int) -> tuple[int, int]:
    """Columns and rows of the picture within the room given; a cell is taken to be twice as high as wide.

    >>> fitted(600, 400, 24, 10), fitted(400, 600, 24, 10)
    ((24, 8), (13, 10))
    """
    scale = min(columns / width_px, 2 * rows / height_px)
    return max(1, round(width_px * scale)), max(1, round(height_px * scale / 2))
