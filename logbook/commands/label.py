"""``logbook label``: what the back of a print, or its sleeve, should say."""

from __future__ import annotations

from pathlib import Path

import click

from logbook.commands.shared import on_file, print_answer, reading_store, replacing, shown
from logbook.records.numbering import as_integer


def _number(context: click.Context, parameter: click.Parameter, value: str) -> int:
    try:
        return as_integer(value)
    except ValueError:
        raise click.BadParameter(f"{value!r} is no running number, such as 412", context, parameter) from None


@click.command()
@click.argument("number", callback=_number, metavar="NUMBER")
@click.option("--id", "print_id", metavar="ID", help="Which print, where two bear the number.")
@click.option("--png", type=click.Path(path_type=Path, dir_okay=False), metavar="FILE", help="Write the label as a picture.")
@click.option("--size", default="90x50mm", show_default=True, metavar="WxH", help="Size of the picture.")
@click.option("--ppi", type=click.FloatRange(72, 1200), default=300.0, show_default=True, help="Resolution of the picture.")
@replacing
@click.option("--json", "as_json", is_flag=True, help="As JSON.")
@on_file
def label(number: int, print_id: str | None, png: Path | None, size: str, ppi: float, replace: bool, as_json: bool) -> None:
    """Give the label of a print: title, number, edition, paper, date, size."""
    from logbook.reports.picture import label as labels
    from logbook.snapshot import take

    with reading_store() as store:
        answer = labels.answer(take(store), number, print_id)
    if png is None:
        print_answer(answer, labels.as_text, as_json)
        return
    from logbook.picture.label import write_label
    from logbook.picture.refusal import PictureRefused
    from logbook.records.units import parse_size

    try:
        width_mm, height_mm = parse_size(size)
        write_label(png, labels.as_lines(answer), width_mm, height_mm, ppi, replace=replace)
    except PictureRefused:  # of the file, not of the size
        raise
    except ValueError as error:
        raise click.UsageError(f"--size: {error}") from error
    click.echo(f"Wrote {shown(str(png))}: print it at 100 %")
