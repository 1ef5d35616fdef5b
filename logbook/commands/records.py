"""Records into the logbook and out of it."""

from __future__ import annotations

import io
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import IO, Literal

import click

from logbook.commands.shared import on_file, reading_store, shown, writing_store
from logbook.records.wording import counted

LONGEST_NAME = 24
LONG_FILE = 1_000_000  # bytes from which reading takes long enough to show how far it got


@click.command("import")
@click.argument("files", nargs=-1, required=True, metavar="FILE…")
@click.option("--kind", help="The kind of record in a CSV file (as in `logbook export --kind`).")
@click.option("--numbers-twice", is_flag=True, help="Where two prints bear one number, leave it on both.")
@on_file
def import_(files: tuple[str, ...], kind: str | None, numbers_twice: bool) -> None:
    """Add record files (JSON Lines, or CSV with a header); `-` reads standard input. All or nothing per file."""
    from logbook.actions.importing import ImportRefused, import_file
    from logbook.actions.levels import unlikely_falls
    from logbook.records import Gauge
    from logbook.snapshot import take
    from logbook.store import reading

    _check_kind(kind)
    refused = False
    with writing_store() as store:
        for name in files:
            rounds = reading.ids(store, Gauge)
            try:
                with _input(name) as stream, _bar(stream, name) as progress:
                    entry = import_file(store, stream, name, kind=kind, numbers_twice=numbers_twice, progress=progress)
            except (ImportRefused, OSError) as error:
                refused = True
                click.echo(f"{shown(name)}: {error.strerror}" if isinstance(error, OSError) else str(error), err=True)
            else:
                click.echo(f"{entry.said} from {shown(name)}" if entry else f"{shown(name)} holds no records; nothing was added")
                for fall in unlikely_falls(take(store), rounds):
                    click.echo(f"Look at {fall}; if it is wrong, put that day right (E).", err=True)
        if refused:
            raise SystemExit(1)


def _check_kind(kind: str | None) -> None:
    from logbook.records import KINDS

    if kind is not None and kind not in KINDS:
        raise click.UsageError(f"--kind: {kind!r} is none of {', '.join(KINDS)}")


@contextmanager
def _input(name: str) -> Iterator[IO[bytes]]:
    if name == "-":
        yield sys.stdin.buffer
    else:
        with Path(name).open("rb") as stream:
            yield stream


@contextmanager
def _bar(stream: IO[bytes], name: str) -> Iterator[Callable[[int], None] | None]:
    size = Path(name).stat().st_size if name != "-" else 0
    if size < LONG_FILE or not sys.stderr.isatty():
        yield None
        return
    label = f"Reading {shorter(shown(Path(name).name))}"  # a line that wraps would be written below itself again and again
    with click.progressbar(length=size, label=label, width=0, file=sys.stderr) as bar:
        yield bar.update


def shorter(name: str) -> str:
    """A name that leaves room for a bar beside it.

    >>> shorter("day.jsonl"), shorter("everything that was logged in the autumn.jsonl")
    ('day.jsonl', 'everything that was log…')
    """
    return name if len(name) <= LONGEST_NAME else f"{name[: LONGEST_NAME - 1]}…"


@click.command()
@click.option("--kind", help="Only this kind of record.")
@click.option("--csv", "as_table", is_flag=True, help="As CSV with a header instead of JSON Lines.")
@click.option("--sheet", type=click.Path(path_type=Path), metavar="FILE", help="One flat table of the prints, .xlsx or .csv.")
@on_file
def export(kind: str | None, as_table: bool, sheet: Path | None) -> None:
    """Write the records to standard output, in the form that `import` takes; or one table of the prints that `adopt` takes."""
    from logbook.actions.exporting import export_lines, export_table

    _check_kind(kind)
    if sheet is not None:
        _export_sheet(sheet)
        return
    with reading_store() as store:
        if isinstance(sys.stdout, io.TextIOWrapper):
            sys.stdout.reconfigure(encoding="utf-8", newline="\n")  # a record file is UTF-8 whatever the locale
        if as_table:
            export_table(store, kind, sys.stdout)
        else:
            sys.stdout.writelines(f"{line}\n" for line in export_lines(store, kind))


def _export_sheet(sheet: Path) -> None:
    from logbook.actions.adopting import flat
    from logbook.records.new_file import NewFile, refused_in_one_line

    with reading_store() as store, refused_in_one_line(sheet), NewFile(sheet) as out:
        prints = flat.write(store, out, sheet)
    click.echo(f"Wrote {counted(prints, 'print')} into {shown(str(sheet))}")


@click.command()
@click.argument("other", type=click.Path(path_type=Path), metavar="OTHER")
@click.option("--dry-run", is_flag=True, help="Only say what would come in.")
@click.option("--yes", is_flag=True, help="Do not ask.")
@click.option("--ours", "decide", flag_value="ours", help="Of what was changed on both sides keep what stands here.")
@click.option("--theirs", "decide", flag_value="theirs", help="Of what was changed on both sides take what stands there.")
@on_file
def merge(other: Path, dry_run: bool, yes: bool, decide: Literal["ours", "theirs"] | None) -> None:
    """Bring in another logbook's records, field by field: a change made in sight of the other's wins.

    What was changed on both sides stands side by side until you decide, here or in the program. Undo takes it all back.
    """
    from logbook.actions.merging import bring_in, other_logbook, summary
    from logbook.store import merging

    with writing_store() as store, other_logbook(store, other) as there:
        planned = merging.plan(store, there, decide)
        for line in summary(planned, store, there, str(other)):
            click.echo(line)
        if dry_run or planned.is_nothing:
            return
        if sys.stdin.isatty() and not yes:
            click.confirm("Bring this in?", abort=True)
        entry = bring_in(store, there, planned, str(other))
        click.echo(f"{entry.said}; `u` in the program undoes it" if entry else "Nothing changed")
