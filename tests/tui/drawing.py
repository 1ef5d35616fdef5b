"""A screen drawn as SVG with nothing around it: no window, no font from elsewhere."""

from __future__ import annotations

from typing import Any
from unittest.mock import patch

from rich.console import Console
from syrupy.extensions.single_file import SingleFileSnapshotExtension, WriteMode
from textual.app import App

PLAIN = """\
<svg viewBox="{terminal_x} {terminal_y} {terminal_width} {terminal_height}" xmlns="http://www.w3.org/2000/svg">
<style>
.{unique_id}-matrix {{ font-family: monospace; font-size: {char_height}px; line-height: {line_height}px; }}
{styles}
</style>
<defs>
<clipPath id="{unique_id}-clip-terminal"><rect x="0" y="0" width="{terminal_width}" height="{terminal_height}"/></clipPath>
{lines}
</defs>
<g transform="translate({terminal_x}, {terminal_y})" clip-path="url(#{unique_id}-clip-terminal)">
{backgrounds}
<g class="{unique_id}-matrix">
{matrix}
</g>
</g>
</svg>
"""


def drawn(app: App[Any]) -> str:
    """The open screen of a running program."""
    with patch.dict(Console.export_svg.__kwdefaults__, code_format=PLAIN, unique_id="screen"):
        return app.export_screenshot()


class Drawing(SingleFileSnapshotExtension):
    """Keeps one drawing a file."""

    file_extension = "svg"
    _write_mode = WriteMode.TEXT
