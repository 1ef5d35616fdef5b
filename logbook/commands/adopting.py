"""A person's own table into the logbook, and one flat table out of it."""

from __future__ import annotations

import sys
from functools import partial
from pathlib import Path

import click

from logbook.commands.shared import logbook_path, on_file, open_program, print_answer, reading_store, today_or, writing_store
from logbook.records.text import plain


def _pairs(context: click.Context, option: click.Parameter, values: tuple[str, ...]) -> dict[str, str]:
    """``theirs=meaning`` options as a map; the last = parts them, because a heading may hold one."""
    without = next((one for one in values if not one.rpartition("=")[0]), None)
    if without is not None:
        raise click.BadParameter(f"{without!r} lacks its =, as in {option.metavar}")
    return {theirs.strip(): meant.strip() for theirs, _, meant in (one.rpartition("=") for one in values)}


@click.command()
@click.argument("table", type=click.Path(path_type=Path, dir_okay=False), metavar="FILE")
@click.option("--yes", is_flag=True, help="Add it; without this it is only looked at.")
@click.option("--sheet", metavar="NAME", help="The sheet of a workbook; else the one with most rows.")
@click.option("--printer", metavar="NAME", help="The printer of rows that name none.")
@click.option(
    "--column",
    multiple=True,
    callback=_pairs,
    metavar="'THEIR HEADING=FIELD'",
    help="What a column is: a field, a setting's name, `result`, `ink NAME`, or - to leave it; then how it is read, as in "
    "'Date=date, day first' or 'Size=size, in'.",
)
@click.option(
    "--word",
    multiple=True,
    callback=_pairs,
    metavar="'THEIR WORD=MEANING'",
    help="What a word of yours means, as in 'too dark=redo -2' (thirds of a stop); another name of a picture, a paper, a light; "
    "or the black that a new paper needs.",
)
@click.option(
    "--else", "otherwise", multiple=True, callback=_pairs, metavar="'FIELD=VALUE'", help="What holds where a row says nothing."
)
@click.option(
    "--attempts", is_flag=True, help="A picture printed again on its paper within two weeks, not kept before, is another attempt."
)
@click.option("--json", "as_json", is_flag=True, help="As JSON.")
@on_file
def adopt(
    table: Path,
    yes: bool,
    sheet: str | None,
    printer: str | None,
    column: dict[str, str],
    word: dict[str, str],
    otherwise: dict[str, str],
    attempts: bool,
    as_json: bool,
) -> None:
    """Bring your own table of prints in: CSV, .xlsx or .ods. It is looked at first, in a terminal on a screen of its own."""
    from logbook.actions.adopting.adopt import add, look
    from logbook.actions.adopting.plan import Answers
    from logbook.actions.adopting.text import as_text

    answers = Answers(column, word, {**otherwise, **({"printer": printer} if printer else {})}, attempts)
    if sys.stdin.isatty() and sys.stdout.isatty() and not yes and not as_json:
        from logbook.tui.forms.shelf.table_file import open_table

        open_program(logbook_path(), first=partial(open_table, path=table, sheet=sheet, said=answers))
        return
    with writing_store() if yes else reading_store() as store:
        adoption = look(store, table, answers, today_or(None), sheet)
        entry = add(store, adoption) if yes else None
        print_answer(adoption.plan, lambda plan: as_text(plan, table.name), as_json)
        if not as_json:
            done = f"{entry.said}; `u` in the program undoes it" if entry else "Nothing was added" if yes else "--yes adds it"
            click.echo(f"\n{plain(done)}")
