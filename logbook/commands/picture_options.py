"""Options that the commands on pictures share: the file, and how large the print will be."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any, TypeVar

import click

from logbook.records.text import plain
from logbook.records.units import parse_border, parse_length, parse_size

Command = TypeVar("Command", bound=Callable[..., Any])
IMAGE = click.argument("image", type=click.Path(path_type=Path), metavar="IMAGE")
JSON = click.option("--json", "as_json", is_flag=True, help="As JSON.")
A_BORDER = "Once for all sides, or four times: top, right, bottom, left."
IGNORE = click.option("--ignore-profile", is_flag=True, help="Ignore the embedded profile and read the file as sRGB.")


def _typed(read: Callable[[str], Any]) -> Callable[[click.Context, click.Parameter, str | None], Any]:
    """A callback that reads a length or a size as people type it; without a unit it is mm."""

    def convert(context: click.Context, parameter: click.Parameter, value: str | None) -> Any:
        try:
            return None if value is None else read(value)
        except ValueError as error:
            raise click.BadParameter(plain(str(error)), context, parameter) from None

    return convert


LENGTH, BORDER, SIZE = _typed(parse_length), _typed(parse_border), _typed(parse_size)


def BORDERS(context: click.Context, parameter: click.Parameter, typed: tuple[str, ...]) -> tuple[float, ...]:  # noqa: N802
    """A callback: one border for all sides, or four; in mm."""
    widths = tuple(BORDER(context, parameter, one) for one in typed)
    if len(widths) not in (0, 1, 4):
        raise click.BadParameter("give one border, or four: top, right, bottom, left", context, parameter)
    return widths * 4 if len(widths) == 1 else widths or (0.0,) * 4


def sized(command: Command) -> Command:
    """The three ways to say how large the print will be."""
    for option in (
        click.option("--long", "long_mm", callback=LENGTH, metavar="L", help="Long side of the printed image."),
        click.option("--width", "width_mm", callback=LENGTH, metavar="L", help="Width of the printed image."),
        click.option("--size", "size_mm", callback=SIZE, metavar="WxH", help="Size of the image; held whole within it."),
    ):
        command = option(command)
    return command


def one_size(**sizes: Any) -> dict[str, Any]:
    if sum(value is not None for value in sizes.values()) > 1:
        raise click.UsageError("give one of --size, --width and --long")
    return sizes
