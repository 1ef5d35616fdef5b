"""Sheets to judge and measure by: strips and wedges are written, scans and shots of them are read."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from logbook.commands.picture_options import IGNORE, IMAGE, JSON, LENGTH, one_size, sized
from logbook.commands.shared import on_file, print_answer, replacing, shown, writing_store
from logbook.records.units import number_text, size_text

if TYPE_CHECKING:
    from logbook.actions.sheets import Through

Command = TypeVar("Command", bound=Callable[..., Any])


def _signed(command: Command) -> Command:
    """What a sheet says of itself, in words and in its code."""
    for option in (
        click.option("--compensation/--no-compensation", "compensated", default=None, help="Black point compensation."),
        click.option("--intent", type=click.Choice(["perceptual", "relative", "absolute", "saturation"]), help="The intent."),
        click.option("--through", metavar="NAME", help="The output profile it will be printed through."),
        click.option("--paper", metavar="NAME", help="The paper it will be printed on."),
    ):
        command = option(command)
    return command


def _through(said: dict[str, Any]) -> Through:
    from logbook.actions.sheets import Through

    names = {"paper": "paper", "profile": "through", "intent": "intent", "compensated": "compensated"}
    return Through(**{field: said.pop(name) for field, name in names.items()})


@click.command()
@IMAGE
@sized
@click.option("--roll", "roll_mm", callback=LENGTH, metavar="L", help="Width of the roll; the strip is made to fit it.")
@click.option("--at", default="50,50", metavar="X,Y", help="Middle of the detail, in percent from the left and the top.")
@click.option("--to", type=click.Path(path_type=Path), metavar="FILE", help="The file to write (.tif or .png).")
@replacing
@IGNORE
@_signed
def strip(image: Path, at: str, to: Path | None, **said: Any) -> None:
    """Write a test strip: one detail at −1 … +1 stop in thirds, at the print's own resolution."""
    wish = _wish(**{name: said.pop(name) for name in ("size_mm", "width_mm", "long_mm")})
    middle = _place(at)
    from logbook.actions.sheets import write_strip

    target = to or Path(f"{image.stem}-strip.tif")
    plan = write_strip(image, wish, target, _through(said), at=middle, **said)
    click.echo(
        f"Wrote {shown(str(target))}, {size_text(*plan.page_mm)} at {number_text(plan.ppi)} ppi: print it at 100 %, "
        "hold it beside the screen, and log the darkness under the detail that matches"
    )


def _wish(**sizes: Any) -> Any:
    from logbook.picture.size import Wish

    return Wish(**one_size(**sizes))


def _place(typed: str) -> tuple[float, float]:
    try:
        across, down = (float(part) / 100 for part in typed.split(","))
    except ValueError:
        raise click.UsageError(f"--at {typed!r}: type two percentages, such as 30,60") from None
    if not (0 <= across <= 1 and 0 <= down <= 1):
        raise click.UsageError(f"--at {typed!r}: percentages are 0 to 100")
    return across, down


@click.command()
@click.option("--ppi", type=click.FloatRange(60, 2880), default=360.0, show_default=True, help="Print resolution.")
@click.option("--width", "width_mm", callback=LENGTH, metavar="L", help="Width of the chart; without it 18 cm.")
@click.option("--roll", "roll_mm", callback=LENGTH, metavar="L", help="Width of the roll; the wedge is made to fit it.")
@click.option("--profile", "space", type=click.Path(path_type=Path), metavar="FILE", help="The pictures' RGB space; else sRGB.")
@click.option("--bits", type=click.Choice(["8", "16"]), default="8", show_default=True, help="Depth of the file.")
@_signed
@click.option("--to", type=click.Path(path_type=Path), default=Path("wedge.tif"), metavar="FILE", help="The file to write.")
@replacing
def wedge(bits: str, to: Path, **said: Any) -> None:
    """Write a wedge: a labelled step scale of the dark levels, with marks for a scan of it to be measured by."""
    from logbook.actions.sheets import write_wedge

    write_wedge(to, _through(said), bits=int(bits), **said)
    click.echo(
        f"Wrote {shown(str(to))}: print it at 100 % as the pictures are printed, let it dry, "
        "and log the lowest level that stands apart from the black above it"
    )


@click.command()
@click.argument("image", type=click.Path(path_type=Path), metavar="IMAGE", required=False)
@click.option("--beside", is_flag=True, help="IMAGE shows print and screen; without IMAGE write the chart for the screen.")
@click.option("--screen", "screen_px", default="1920x1080", show_default=True, metavar="WxH", help="Pixels of that screen.")
@click.option("--to", type=click.Path(path_type=Path), default=Path("beside.png"), metavar="FILE", help="Where the chart goes.")
@click.option("--space", type=click.Path(path_type=Path), metavar="FILE", help="The profile it was printed from; else sRGB.")
@click.option("--wedge", "wedge_id", metavar="ID", help="The wedge's record; its first step is set to the one measured.")
@click.option("--log", "to_log", is_flag=True, help="Note what was measured as the wedge that the sheet's code names.")
@JSON
@on_file
def measure(image: Path | None, beside: bool, screen_px: str, to: Path, space: Path | None, as_json: bool, **noted: Any) -> None:
    """Read a scan of a printed wedge or strip, or a shot of it beside the screen: tone curve, first step, black, darkness."""
    from logbook.picture.icc import read_profile
    from logbook.reports.picture import measurement

    if image is None:
        if not beside:
            raise click.UsageError("name the IMAGE to read, or --beside to write the chart for the screen")
        _write_beside(_pixels(screen_px), to)
        return
    if beside:
        print_answer(measurement.beside(image), measurement.beside_as_text, as_json)
        return
    found = measurement.answer(image, read_profile(space) if space is not None else None)
    if noted["wedge_id"] is None and not noted["to_log"]:
        print_answer(found, measurement.as_text, as_json)
        return
    from logbook.actions.wedges import keep_first_step, keep_measured, wedge_with_id

    with writing_store() as store:
        if noted["wedge_id"] is not None:
            entry = keep_first_step(store, wedge_with_id(store, noted["wedge_id"]), found.first_step)
        else:
            entry = keep_measured(store, found.sheet, found.first_step)
    print_answer(found, measurement.as_text, as_json)
    click.echo(f"Wedge: first step {found.first_step}, {'kept' if entry else 'as noted before'}", err=True)


def _write_beside(size_px: tuple[int, int], to: Path) -> None:
    from logbook.picture.beside import screen_page
    from logbook.picture.icc import srgb

    screen_page(size_px).write(to, srgb().handle.tobytes())
    click.echo(
        f"Wrote {shown(str(to))}: show it on the whole screen at full size, hang the printed wedge or strip beside it under its "
        "light, and take both in one shot from straight ahead; then logbook measure SHOT --beside"
    )


def _pixels(typed: str) -> tuple[int, int]:
    try:
        across, down = (int(part) for part in typed.lower().split("x"))
    except ValueError:
        raise click.UsageError(f"--screen {typed!r}: type two numbers of pixels, such as 1920x1080") from None
    if not (640 <= across <= 16_000 and 360 <= down <= 16_000):
        raise click.UsageError(f"--screen {typed!r}: 640x360 to 16000x16000")
    return across, down
