"""Pictures: looked at before they are printed, and what is printed to judge by."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from logbook.commands.shared import logbook_path, on_file, print_answer, reading_store, replacing, shown, writing_store
from logbook.records.text import plain
from logbook.records.units import number_text, parse_border, parse_length, parse_size, size_text

if TYPE_CHECKING:
    from logbook.reports.picture.inspection import Findings, Inspection

Command = TypeVar("Command", bound=Callable[..., Any])
_IMAGE = click.argument("image", type=click.Path(path_type=Path), metavar="IMAGE")
_JSON = click.option("--json", "as_json", is_flag=True, help="As JSON.")
_IGNORE = click.option("--ignore-profile", is_flag=True, help="Leave the embedded profile aside and read as sRGB.")


def _typed(read: Callable[[str], Any]) -> Callable[[click.Context, click.Parameter, str | None], Any]:
    """A callback that reads a length or a size as people type it; without a unit it is mm."""

    def convert(context: click.Context, parameter: click.Parameter, value: str | None) -> Any:
        try:
            return None if value is None else read(value)
        except ValueError as error:
            raise click.BadParameter(plain(str(error)), context, parameter) from None

    return convert


_LENGTH, _BORDER, _SIZE = _typed(parse_length), _typed(parse_border), _typed(parse_size)


def _sized(command: Command) -> Command:
    """The three ways to say how large the print will be."""
    for option in (
        click.option("--long", "long_mm", callback=_LENGTH, metavar="L", help="Long side of the printed image."),
        click.option("--width", "width_mm", callback=_LENGTH, metavar="L", help="Width of the printed image."),
        click.option("--size", "size_mm", callback=_SIZE, metavar="WxH", help="Size of the image; held whole within it."),
    ):
        command = option(command)
    return command


def _one_size(**sizes: Any) -> dict[str, Any]:
    if sum(value is not None for value in sizes.values()) > 1:
        raise click.UsageError("give one of --size, --width and --long")
    return sizes


@click.command()
@_IMAGE
@_sized
@click.option("--border", "border_mm", callback=_BORDER, default="0", metavar="L", help="Border on each side.")
@click.option("--roll", "roll_mm", callback=_LENGTH, metavar="L", help="Width of the roll; without it the paper's.")
@click.option("--paper", metavar="NAME", help="The paper, by name or id: its black and its wedge's lift.")
@click.option("--profile", type=click.Path(path_type=Path), metavar="FILE", help="An output profile to proof on.")
@click.option("--viewing", "viewing_mm", callback=_LENGTH, metavar="L", help="The distance the print is looked at from.")
@click.option("--every-pixel", is_flag=True, help="Count all the pixels of a very large file too (slower).")
@click.option("--intent", type=click.Choice(["perceptual", "relative"]), help="How it is to be printed; else as the wedge was.")
@click.option("--compensation/--no-compensation", "black_point_compensation", default=None, help="Black point compensation.")
@click.option(
    "--lift-table",
    type=click.Path(path_type=Path),
    metavar="FILE",
    help="Write the shadow lift as an ICC device link (.icc) or as pairs of 16-bit numbers (.csv).",
)
@click.option(
    "--lift-copy", type=click.Path(path_type=Path), metavar="FILE", help="Write a lifted copy (.tif); IMAGE stays as it is."
)
@_IGNORE
@_JSON
@on_file
def inspect(
    image: Path, paper: str | None, lift_table: Path | None, lift_copy: Path | None, as_json: bool, **options: Any
) -> None:  # fmt: skip
    """Look at a picture before it is printed: size, depth, lightness, soft proof, shadow lift."""
    _one_size(**{name: options[name] for name in ("size_mm", "width_mm", "long_mm")})
    _refuse_names_taken(lift_table, lift_copy)
    from logbook.reports.picture import inspection
    from logbook.reports.picture.inspection_text import as_text
    from logbook.snapshot import take

    with reading_store() if paper is not None else nullcontext() as store, _progress(as_json) as progress:
        answer, findings = inspection.inspect(
            image, inspection.Options(**options), log=take(store) if store is not None else None, paper=paper, progress=progress
        )  # fmt: skip
    _write_lift(image, findings, lift_table, lift_copy)
    print_answer(answer, lambda found: as_text(found, findings), as_json)
    _keep(image, answer)


def _refuse_names_taken(*files: Path | None) -> None:
    """Before the picture is read: of a large one that takes a while."""
    if any(file is not None for file in files):
        from logbook.records.new_file import refuse_what_is_there

        for file in files:
            if file is not None:
                refuse_what_is_there(file)


def _write_lift(image: Path, findings: Findings, table: Path | None, copy: Path | None) -> None:
    if table is None and copy is None:
        return
    from logbook.picture.lifted_copy import write_lifted_copy
    from logbook.picture.refusal import PictureRefused
    from logbook.reports.picture.inspection_text import lift_in_words

    if findings.lifted is None:
        raise PictureRefused(f"no shadow lift to write. {lift_in_words(findings)}")
    lift = findings.lifted.lift
    if table is not None:
        from logbook.picture.lift_table import write_lift_table

        write_lift_table(lift, findings.sample.mode, table)
        click.echo(f"Wrote {shown(str(table))}", err=True)
    if copy is not None:
        write_lifted_copy(image, lift, copy)
        click.echo(f"Wrote {shown(str(copy))}", err=True)


def _keep(image: Path, answer: Inspection) -> None:
    """Into the picture's record, where the logbook has one that names this file."""
    if not logbook_path().exists():
        return
    from logbook.actions.pictures import keep_findings, picture_of_file, sha256_of
    from logbook.reports.picture.inspection import to_keep

    with reading_store() as store:
        picture = picture_of_file(store, image)
    if picture is None:
        return
    kept = sha256_of(image)
    with writing_store() as store:
        if keep_findings(store, to_keep(picture, answer), image, kept) is not None:
            click.echo(f"Kept with {shown(picture.title)}", err=True)


@contextmanager
def _progress(quiet: bool) -> Iterator[Callable[[float], None] | None]:
    if quiet or not sys.stderr.isatty():
        yield None
        return
    with click.progressbar(length=1000, label="reading", file=sys.stderr) as bar:
        yield lambda share: bar.update(max(0, round(1000 * share) - bar.pos))


@click.command()
@_IMAGE
@_sized
@click.option("--roll", "roll_mm", callback=_LENGTH, metavar="L", help="Width of the roll; the strip is made to fit it.")
@click.option("--at", default="50,50", metavar="X,Y", help="Middle of the detail, in percent from the left and the top.")
@click.option("--to", type=click.Path(path_type=Path), metavar="FILE", help="The file to write (.tif or .png).")
@replacing
@_IGNORE
def strip(
    image: Path, roll_mm: float | None, at: str, to: Path | None, replace: bool, ignore_profile: bool, **sizes: Any
) -> None:  # fmt: skip
    """Write a test strip: one detail at −1 … +1 stop in thirds, at the print's own resolution."""
    wish = _wish(**sizes)
    middle = _place(at)
    from logbook.picture.header import read_header
    from logbook.picture.icc import profile_of, srgb
    from logbook.picture.strip import plan_strip, ppi_of_print, strip_page

    picture = read_header(image)
    profile = profile_of(picture, ignore=ignore_profile) or srgb()
    ppi = ppi_of_print(picture, wish.image_mm(picture.width_px, picture.height_px, picture.ppi))
    plan = plan_strip(picture, ppi, roll_mm=roll_mm, at=middle)
    target = to or Path(f"{image.stem}-strip.tif")
    kept = picture.profile if picture.profile and not ignore_profile and profile.mode == "RGB" else srgb().handle.tobytes()
    strip_page(picture, plan, profile).write(target, kept, replace=replace)
    click.echo(
        f"Wrote {shown(str(target))}, {size_text(*plan.page_mm)} at {number_text(ppi)} ppi: print it at 100 %, "
        "hold it beside the screen, and log the darkness under the detail that matches"
    )


def _wish(**sizes: Any) -> Any:
    from logbook.picture.size import Wish

    return Wish(**_one_size(**sizes))


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
@click.option("--width", "width_mm", callback=_LENGTH, metavar="L", help="Width of the chart; without it 18 cm.")
@click.option("--roll", "roll_mm", callback=_LENGTH, metavar="L", help="Width of the roll; the wedge is made to fit it.")
@click.option("--paper", default="", metavar="NAME", help="A paper's name, to stand on the sheet.")
@click.option("--profile", type=click.Path(path_type=Path), metavar="FILE", help="An RGB profile to embed; without it sRGB.")
@click.option("--to", type=click.Path(path_type=Path), default=Path("wedge.tif"), metavar="FILE", help="The file to write.")
@replacing
def wedge(
    ppi: float, width_mm: float | None, roll_mm: float | None, paper: str, profile: Path | None, to: Path, replace: bool
) -> None:  # fmt: skip
    """Write a wedge: a labelled step scale of the dark levels, with marks for a scan of it to be measured by."""
    from logbook.picture.icc import read_profile, srgb
    from logbook.picture.refusal import PictureRefused
    from logbook.picture.wedge import wedge_page

    if profile is not None and read_profile(profile).mode != "RGB":
        raise PictureRefused(f"{shown(str(profile))}: a wedge is printed from RGB; this profile is for other channels")
    kept = profile.read_bytes() if profile is not None else srgb().handle.tobytes()
    page = wedge_page(ppi, roll_mm=roll_mm, width_mm=width_mm, title=shown(paper)[:60])
    page.write(to, kept, replace=replace)
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
@_JSON
@on_file
def measure(
    image: Path | None, beside: bool, screen_px: str, to: Path, space: Path | None, wedge_id: str | None, as_json: bool
) -> None:  # fmt: skip
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
    if wedge_id is None:
        print_answer(found, measurement.as_text, as_json)
        return
    from logbook.actions.wedges import keep_first_step, wedge_with_id

    with writing_store() as store:
        entry = keep_first_step(store, wedge_with_id(store, wedge_id), found.first_step)
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
