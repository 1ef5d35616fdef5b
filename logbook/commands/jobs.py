"""Prints from the print queue, and pictures from a folder, that wait to be confirmed."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from logbook.commands.shared import Said, on_file, writing_store
from logbook.commands.watching import every, seconds, spoken
from logbook.records.text import plain
from logbook.records.wording import counted

if TYPE_CHECKING:
    from collections.abc import Callable

    from logbook.link import Address


@click.command()
@click.option("--from", "url", metavar="URL", help="ipp://HOST[:PORT]/printers/NAME or ipps://…; kept for the next time.")
@click.option(
    "--folder",
    type=click.Path(path_type=Path, exists=True, file_okay=False),
    help="Take the new picture files of this folder instead.",
)
@click.option("--watch", "every_s", callback=seconds, metavar="TIME", help="Look again every TIME (10m); say only what is new.")
@click.option("--json", "as_json", is_flag=True, help="As JSON, one line for each look.")
@on_file
def jobs(url: str | None, folder: Path | None, every_s: int | None, as_json: bool) -> None:
    """Take the finished jobs of a print queue as prints that wait to be confirmed in the program.

    Nothing is contacted but the queue named with --from, now or before. A job is never taken twice.
    """
    if folder is not None and url is not None:
        raise click.UsageError("a queue or a folder: --from or --folder, not both")
    look = _folder(folder, as_json) if folder is not None else _queue(_address(url), as_json)
    if every_s is None:
        look(True)
    else:
        click.echo(f"Looking every {spoken(every_s)} until stopped (ctrl-c)", err=True)
        every(every_s, lambda: look(False))


def _address(url: str | None) -> Address:
    from logbook.actions import queue
    from logbook.link import parse_address

    with writing_store() as store:
        kept = url or queue.address_kept(store)
    if kept is None:
        raise Said("no queue is known yet: --from ipp://HOST/printers/NAME, or --folder DIR")
    return parse_address(kept)


def _queue(address: Address, as_json: bool) -> Callable[[bool], None]:
    def look(say_nothing_new: bool) -> None:
        from logbook.actions import queue
        from logbook.link import ask_jobs
        from logbook.snapshot.clock import now
        from logbook.snapshot.unlogged import unlogged

        told = ask_jobs(address)
        with writing_store() as store:
            queue.keep_address(store, address)
            taken = queue.take(store, address, told)
            missing = unlogged(store)
        if as_json:
            broken_off = [job.name for job in taken.broken_off]
            sheets = {"sheets": missing.sheets, "since": missing.since.isoformat()} if missing is not None else None
            _print_json({"new": taken.new, "known": taken.known, "broken_off": broken_off, "unlogged": sheets})
        elif taken.new or say_nothing_new:
            waits = (
                f"{counted(taken.new, 'print')} from {address} {'waits' if taken.new == 1 else 'wait'} to be confirmed on Today"
            )
            click.echo(waits if taken.new else f"Nothing new from {address}")
            for job in taken.broken_off if say_nothing_new else ():
                click.echo(f"  {job.at:%d %b %H:%M}  {plain(job.name)}: {job.state.name.lower()}, no print")
            if missing is not None:
                click.echo(missing.words(now().date()))

    return look


def _folder(folder: Path, as_json: bool) -> Callable[[bool], None]:
    def look(say_nothing_new: bool) -> None:
        from logbook.actions import picture_folder

        with writing_store() as store:
            taken = picture_folder.take(store, folder)
        if as_json:
            new, moved = ([picture.title for picture in some] for some in (taken.new, taken.moved))
            _print_json({"new": new, "moved": moved, "left": list(taken.left)})
        elif taken.new or taken.moved or say_nothing_new:
            click.echo(f"{counted(len(taken.new), 'picture')} from {plain(str(folder))}" if taken.new else "Nothing new")
            for picture in taken.new:
                click.echo(f"  {plain(picture.title)}")
            for picture in taken.moved:
                click.echo(f"  {plain(picture.title)}: found again, {plain(picture.file or '')}")
            for why in taken.left if say_nothing_new else ():
                click.echo(f"  {plain(why)}", err=True)

    return look


def _print_json(told: object) -> None:
    import json

    click.echo(json.dumps(told, ensure_ascii=False))
