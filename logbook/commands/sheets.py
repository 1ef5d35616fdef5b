"""Sheets to judge and measure by: strips and wedges are written, scans and shots of them are read."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from logbook.commands.picture_options import IGNORE, IMAGE, JSON, LENGTH, one_size, sized
from logbook.commands.shared import on_file, print_answer, reading_store, replacing, shown, writing_store
from logbook.records.units import number_text, size_text

if TYPE_CHECKING:
    from logbook.actions.sheets import Through

Command = TypeVar("Command", bound=Callable[..., Any])


def _signed(command: Command) -> Command:
    """What a sheet says of itself, in words and in its code."""
    for option in (
        click.option("--compensation/--no-compensation", "compensated", default=None, help="Black point compensation."),
        click.option(
            "--intent", type=click.Choice(["perceptual", "relative", "absolute", "saturation"]), help="The rendering intent."
        ),
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
@click.option(
    "--to", type=click.Path(path_type=Path), metavar="FILE", help="The file to write (.tif or .png); else beside IMAGE."
)
@replacing
@IGNORE
@_signed
def strip(image: Path, at: str, to: Path | None, **said: Any) -> None:
    """Write a test strip: one detail at −1 … +1 stop in thirds, at the print's own resolution."""
    wish = _wish(**{name: said.pop(name) for name in ("size_mm", "width_mm", "long_mm")})
    middle = _place(at)
    from logbook.actions.sheets import write_strip

    made = write_strip(image, wish, to, _through(said), at=middle, **said)
    click.echo(
        f"Wrote {shown(str(made.path))}, {size_text(*made.plan.page_mm)} at {number_text(made.plan.ppi)} ppi: print it at 100 %, "
        f"hold it beside the screen, and log the darkness under the detail that matches. With {made.note!r} in the print's note "
        "a scan of it finds its record"
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
@click.option("--beside", is_flag=True, help="IMAGE shows print and screen; without IMAGE show the screen's chart, or write it.")
@click.option("--screen", "screen_px", default="1920x1080", show_default=True, metavar="WxH", help="Pixels of that screen.")
@click.option("--to", type=click.Path(path_type=Path), metavar="FILE", help="Write the screen's chart there.")
@click.option(
    "--scan",
    type=click.Path(path_type=Path),
    metavar="SCAN",
    help="IMAGE shows two sheets, of which SCAN is a scan of one: it tells what the camera did to the other.",
)
@click.option("--space", type=click.Path(path_type=Path), metavar="FILE", help="The profile it was printed from; else sRGB.")
@click.option("--wedge", "wedge_id", metavar="ID", help="The wedge's record; its first step is set to the one measured.")
@click.option("--log", "to_log", is_flag=True, help="Note what was measured as the wedge that the sheet's code names.")
@JSON
@on_file
def measure(image: Path | None, beside: bool, screen_px: str, to: Path | None, as_json: bool, **said: Any) -> None:
    """Read a scan of a printed wedge or strip, or a shot of it beside the screen or a scanned one: how dark it came out."""
    if image is None:
        if not beside:
            raise click.UsageError("name the IMAGE to read, or --beside for the chart that the screen shows")
        _show_beside(_pixels(screen_px), to)
        return
    if beside and said["scan"] is not None:
        raise click.UsageError("give one of --beside and --scan")
    noted = said["wedge_id"] is not None or said["to_log"]
    if noted and (beside or said["scan"] is not None):
        raise click.UsageError("only a scan tells the first step: leave --beside and --scan away")
    answer, as_text = _measured(image, beside, said["scan"], said["space"])
    if not noted:
        print_answer(answer, as_text, as_json)
        return
    from logbook.actions.wedges import keep_first_step, keep_measured, wedge_with_id

    with writing_store() as store:
        if said["wedge_id"] is not None:
            entry = keep_first_step(store, wedge_with_id(store, said["wedge_id"]), answer.first_step)
        else:
            entry = keep_measured(store, answer.sheet, answer.first_step)
    print_answer(answer, as_text, as_json)
    click.echo(f"Wedge: first step {answer.first_step}, {'kept' if entry else 'as noted before'}", err=True)


def _measured(image: Path, beside: bool, scan: Path | None, space_file: Path | None) -> tuple[Any, Callable[[Any], str]]:
    """What a scan or a shot tells, and how it is put into words."""
    from logbook.picture.icc import read_profile
    from logbook.reports.picture import measurement
    from logbook.snapshot import take

    space = read_profile(space_file) if space_file is not None else None
    with reading_store() as store:
        log = take(store)
        if beside:
            return measurement.beside(image, log), measurement.beside_as_text
        if scan is not None:
            return measurement.by_scan(image, scan, space, log), measurement.by_scan_as_text
        return measurement.answer(image, space, log), measurement.as_text


def _show_beside(size_px: tuple[int, int], to: Path | None) -> None:
    """On the whole terminal, or as a file where one is named or there is no terminal."""
    if to is None and sys.stdin.isatty() and sys.stdout.isatty():
        from logbook.tui.places.prints.beside_chart import ChartAlone

        ChartAlone().run()
        return
    from logbook.picture.icc import srgb
    from logbook.picture.wedge import screen_page

    written = to or Path("beside.png")
    screen_page(size_px).write(written, srgb().handle.tobytes())
    click.echo(
        f"Wrote {shown(str(written))}: show it on the whole screen at full size, hang the printed wedge or strip beside it under "
        "its light, and take both in one shot from straight ahead; then logbook measure SHOT --beside"
    )


def _pixels(typed: str) -> tuple[int, int]:
    try:
        across, down = (int(part) for part in typed.lower().split("x"))
    except ValueError:
        raise click.UsageError(f"--screen {typed!r}: type two numbers of pixels, such as 1920x1080") from None
    if not (640 <= across <= 16_000 and 360 <= down <= 16_000):
        raise click.UsageError(f"--screen {typed!r}: 640x360 to 16000x16000")
    return across, down
