"""Pictures, looked at before they are printed."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager, nullcontext
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from logbook.commands.picture_options import A_BORDER, BORDERS, IGNORE, IMAGE, JSON, LENGTH, one_size, sized
from logbook.commands.shared import logbook_path, on_file, print_answer, reading_store, shown, writing_store

if TYPE_CHECKING:
    from logbook.records import Paper, Wedge
    from logbook.reports.picture.inspection import Findings


@click.command()
@IMAGE
@sized
@click.option("--border", "borders_mm", multiple=True, callback=BORDERS, metavar="L", help=A_BORDER)
@click.option("--roll", "roll_mm", callback=LENGTH, metavar="L", help="Width of the roll; without it the paper's.")
@click.option("--paper", metavar="NAME", help="The paper, by name or id: its black and its wedge's lift.")
@click.option("--profile", type=click.Path(path_type=Path), metavar="FILE", help="An output profile to proof on.")
@click.option("--viewing", "viewing_mm", callback=LENGTH, metavar="L", help="How far away the print is looked at.")
@click.option("--every-pixel", is_flag=True, help="Count all the pixels of a very large file too (slower).")
@click.option("--intent", type=click.Choice(["perceptual", "relative"]), help="The intent to print with; else the wedge's.")
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
@IGNORE
@JSON
@on_file
def inspect(
    image: Path, paper: str | None, lift_table: Path | None, lift_copy: Path | None, as_json: bool, **options: Any
) -> None:  # fmt: skip
    """Look at a picture before it is printed: size, depth, lightness, soft proof, shadow lift."""
    one_size(**{name: options[name] for name in ("size_mm", "width_mm", "long_mm")})
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
    _keep(image, findings)


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


def _keep(image: Path, findings: Findings) -> None:
    """Into the picture's record, where the logbook has one of this file; not where the file's own profile was left aside."""
    if not logbook_path().exists() or findings.options.ignore_profile:
        return
    from logbook.actions.pictures import keep_findings, picture_of_file, sha256_of
    from logbook.reports.picture.inspection import to_keep

    sha256 = sha256_of(image)
    with reading_store() as store:
        picture = picture_of_file(store, image, sha256)
    if picture is None:
        return
    with writing_store() as store:
        entry = keep_findings(store, to_keep(picture, findings), image, sha256)
    if entry is not None:
        click.echo(entry.said, err=True)


@contextmanager
def _progress(quiet: bool) -> Iterator[Callable[[float], None] | None]:
    if quiet or not sys.stderr.isatty():
        yield None
        return
    with click.progressbar(length=1000, label="reading", file=sys.stderr) as bar:
        yield lambda share: bar.update(max(0, round(1000 * share) - bar.pos))


@click.command()
@IMAGE
@sized
@click.option("--ppi", type=click.FloatRange(60, 2880), help="Pixels an inch of the print; without it the picture's own.")
@click.option("--border", "borders", multiple=True, callback=BORDERS, metavar="L", help=A_BORDER)
@click.option(
    "--brighten", "brighten_stops", type=click.FloatRange(-2, 2), default=0.0, metavar="STOPS", help="Brighter by so much."
)
@click.option("--viewing", "viewing_mm", callback=LENGTH, metavar="L", help="The distance to sharpen for; without it not at all.")
@click.option("--paper", metavar="NAME", help="The paper, by name or id: the lift that its wedge asks for.")
@click.option("--profile", type=click.Path(path_type=Path), metavar="FILE", help="The output profile to lift through.")
@click.option("--intent", type=click.Choice(["perceptual", "relative"]), help="The intent to print with; else the wedge's.")
@click.option("--compensation/--no-compensation", "black_point_compensation", default=None, help="Black point compensation.")
@click.option("--to", type=click.Path(path_type=Path), metavar="FILE", help="The file to write; else beside IMAGE.")
@JSON
@on_file
def prepare(image: Path, paper: str | None, to: Path | None, as_json: bool, borders: tuple[float, ...], **said: Any) -> None:
    """Write the print file: lifted, brightened, at size and ppi, sharpened, with borders, in 16 bits. IMAGE stays as it is."""
    size = one_size(**{name: said.pop(name) for name in ("size_mm", "width_mm", "long_mm")})
    from logbook.actions.print_file import Wanted, free_name, make_print_file
    from logbook.picture.header import read_header
    from logbook.picture.size import Wish
    from logbook.records.wording import setting_label, setting_text

    picture = read_header(image)
    image_mm = Wish(**size).image_mm(picture.width_px, picture.height_px, picture.ppi)
    found, wedge = _paper_and_wedge(paper)
    wanted = Wanted(image_mm=image_mm, borders_mm=borders, paper=found, wedge=wedge, **said)  # type: ignore[arg-type]
    with _progress(as_json) as progress:
        made = make_print_file(image, wanted, to or free_name(image), progress)

    facts = "; ".join(f"{setting_label(name)} {setting_text(name, value)}" for name, value in made.settings.items())
    words = f"Wrote {shown(str(made.path))}. Log the print with: {facts}.\nIts SHA-256 is {made.sha256}."
    told = {"path": str(made.path), "sha256": made.sha256, "image_mm": made.image_mm, "settings": made.settings}
    print_answer(told, lambda _: words, as_json)


def _paper_and_wedge(name: str | None) -> tuple[Paper | None, Wedge | None]:
    if name is None:
        return None, None
    from logbook.records import Paper
    from logbook.reports.picture.lifting import last_wedge
    from logbook.reports.shared.naming import paper_id
    from logbook.snapshot import take

    with reading_store() as store:
        log = take(store)
        found = log.get(Paper, paper_id(log, name))
        return found, last_wedge(log, found)
