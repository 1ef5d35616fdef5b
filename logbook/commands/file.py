"""The file itself: copies of it, back from a copy, and whether it is sound."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path

import click

from logbook.commands.shared import Said, logbook_path, on_file, replacing, shown, today_or
from logbook.records.new_file import refuse_what_is_there
from logbook.records.text import plain
from logbook.records.wording import counted


@click.command()
@click.argument("target", required=False, type=click.Path(path_type=Path), metavar="[FILE]")
@replacing
@on_file
def backup(target: Path | None, replace: bool) -> None:
    """Write a consistent, verified copy of the logbook; without FILE into the folder of its backups."""
    from logbook.store import backup, open_store

    path = logbook_path()
    if not path.exists():
        raise Said(f"{shown(str(path))} does not exist")
    with open_store(path, create=False) as store:
        stamp = datetime.now().astimezone().strftime("%Y-%m-%dT%H%M%S")
        made = backup.back_up(store, target or backup.folder_of(path) / f"{path.stem}-by-hand-{stamp}.db", replace=replace)
    click.echo(f"Backed up to {shown(str(made))}, and verified")


@click.command()
@click.argument("source", type=click.Path(path_type=Path), metavar="FILE")
@click.option("--instead", is_flag=True, help="Nobody uses the logbook that FILE comes from any more: go on with its numbers.")
@on_file
def restore(source: Path, instead: bool) -> None:
    """Bring a backup back; what is there now is kept first."""
    from logbook.store import backup, numbering, open_store

    kept = backup.restore(logbook_path(), source, today_or(None))
    if instead:
        with open_store(logbook_path()) as store, store.writing() as connection:
            numbering.take_over(connection)
    click.echo(f"Restored {shown(str(source))}" + (f"; what was there is kept as {shown(str(kept))}" if kept else ""))


@click.command()
@click.argument("target", required=False, type=click.Path(path_type=Path), metavar="[FILE]")
@on_file
def recover(target: Path | None) -> None:
    """Make a new logbook from the journal of a damaged one, and say what differs. The damaged one stays as it is."""
    from logbook.store import replaying

    path = logbook_path()
    made = target or path.with_name(f"{path.stem}-recovered-{datetime.now().astimezone():%Y-%m-%dT%H%M%S}.db")
    refuse_what_is_there(made)
    differences = replaying.recover(path, made)
    for line in differences:
        click.echo(plain(line))
    differ = f"{counted(len(differences), 'difference')}, as said above" if differences else "nothing differs"
    click.echo(f"Recovered into {shown(str(made))}: {differ}. `logbook restore` puts it in place")


@click.command()
@on_file
def check() -> None:
    """Verify the file; name any damage and the way back."""
    from logbook.store import backup
    from logbook.store.checking import check_file

    path = logbook_path()
    faults = check_file(path)
    if not faults:
        click.echo(f"{shown(str(path))} is sound")
        return
    lines = [f"{shown(str(path))}: {plain(fault)}" for fault in faults]
    sound = [file for _, file in sorted(backup.dated(path).items(), reverse=True) if not check_file(file)]
    if sound:
        lines.append(f"The newest sound backup: logbook restore {shown(str(sound[0]))}")
    elif path.exists():
        lines.append("No sound backup lies beside it; keep the file as it is and look for a copy of your own")
    raise Said("\n".join(lines))
