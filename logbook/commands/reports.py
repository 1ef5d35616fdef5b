"""The four answers, as text or as JSON."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Any, TypeVar

import click

from logbook.commands.shared import day, on_file, print_answer, reading_log, replacing, shown
from logbook.records.new_file import refuse_what_is_there

if TYPE_CHECKING:
    from logbook.snapshot import Snapshot

Command = TypeVar("Command", bound=Callable[..., Any])


def _options(*names: str) -> Callable[[Command], Command]:
    known = {
        "today": click.option("--today", type=day, metavar="DAY", help="Answer as of this day."),
        "since": click.option("--since", type=day, metavar="DAY", help="Prints from this day on."),
        "until": click.option("--until", type=day, metavar="DAY", help="Prints up to this day."),
        "paper": click.option("--paper", metavar="NAME", help="One paper, by name or id."),
        "printer": click.option("--printer", metavar="NAME", help="One printer, by name or id."),
        "json": click.option("--json", "as_json", is_flag=True, help="As JSON."),
    }

    def decorate(command: Command) -> Command:
        for name in reversed((*names, "json")):
            command = known[name](command)
        return on_file(command)

    return decorate


def _period(since: date | None, until: date | None) -> dict[str, date | None]:
    """The days asked for; a period that ends before it begins is a slip, not a question."""
    if since is not None and until is not None and until < since:
        raise click.UsageError(f"--until {until:%Y-%m-%d} lies before --since {since:%Y-%m-%d}")
    return {"since": since, "until": until}


def _ids(log: Snapshot, paper: str | None, printer: str | None) -> tuple[str | None, str | None]:
    from logbook.reports.shared.naming import paper_id, printer_id

    return paper and paper_id(log, paper), printer and printer_id(log, printer)


@click.group()
def report() -> None:
    """The four answers, as text or as JSON."""


@report.command()
@_options("since", "until", "paper", "printer")
@click.option("--set", "set_values", multiple=True, metavar="NAME=VALUE", help="A setting of the next print.")
@click.option("--after", metavar="NUMBER-or-id", help="Advice for the next attempt at this print.")
@click.option("--test", "sheets", type=click.Choice(["4", "8"]), help="A planned test of so many small prints.")
def darkness(
    since: date | None,
    until: date | None,
    paper: str | None,
    printer: str | None,
    set_values: tuple[str, ...],
    after: str | None,
    sheets: str | None,
    as_json: bool,
) -> None:
    """Which settings print darker than the screen; with --paper or --after also what to try next, with --test a planned test."""
    from logbook.reports.darkness import answer as darkness
    from logbook.reports.darkness import text as darkness_text
    from logbook.reports.shared.naming import print_id

    chosen = _settings(set_values)
    if chosen and paper is None and after is None:
        raise click.UsageError("--set goes with --paper or --after")
    days = _period(since, until)
    with reading_log() as log:
        paper_id, printer_id = _ids(log, paper, printer)
        answer = darkness.answer(
            log,
            since=days["since"],
            until=days["until"],
            paper=paper_id,
            printer=printer_id,
            set_values=chosen or None,
            after=after and print_id(log, after),
            sheets=int(sheets or darkness.SHEETS),
        )
        print_answer(answer, darkness_text.sheets_as_text if sheets else darkness_text.as_text, as_json)


def _settings(typed: tuple[str, ...]) -> dict[str, Any]:
    from logbook.records.refusal import Refused
    from logbook.records.settings import check_settings
    from logbook.records.table_form import read_setting

    chosen = {}
    for one in typed:
        name, equals, value = one.partition("=")
        if not equals or not name.strip():
            raise click.UsageError(f"--set {one!r}: type NAME=VALUE")
        chosen[name.strip()] = read_setting(name.strip(), value.strip())
    try:
        check_settings(chosen)
    except Refused as refused:
        raise click.UsageError(f"--set {refused}") from refused
    return chosen


@report.command()
@_options("today", "since", "until", "printer")
def changeovers(today: date | None, since: date | None, until: date | None, printer: str | None, as_json: bool) -> None:
    """How much ink each changeover wastes, and where the rest went."""
    from logbook.reports.ink import changeovers
    from logbook.reports.ink import text as changeovers_text

    days = _period(since, until)
    with reading_log(today) as log:
        _, printer_id = _ids(log, None, printer)
        answer = changeovers.answer(log, **days, printer=printer_id)
        print_answer(answer, changeovers_text.as_text, as_json)


@report.command()
@_options("today", "printer")
def batch(today: date | None, printer: str | None, as_json: bool) -> None:
    """Whether a matte or a photo batch is due, and the cheapest plan."""
    from logbook.reports.batch import answer as batch
    from logbook.reports.batch import text as batch_text

    with reading_log(today) as log:
        _, printer_id = _ids(log, None, printer)
        print_answer(batch.answer(log, printer=printer_id), batch_text.as_text, as_json)


@report.command()
@_options("today", "paper", "printer")
@click.option("--month", metavar="YYYY-MM", help="The month to review.")
@click.option("--size", metavar="WxH", help="Also what a print of this size must sell for, such as 30x40cm.")
@click.option("--html", type=click.Path(path_type=Path, dir_okay=False), help="Write the review as one HTML page.")
@replacing
@click.option("--markdown", is_flag=True, help="As Markdown.")
def month(
    today: date | None,
    paper: str | None,
    printer: str | None,
    month: str | None,
    size: str | None,
    html: Path | None,
    replace: bool,
    markdown: bool,
    as_json: bool,
) -> None:
    """What changed: prints, keepers, ink, paper, money and drift."""
    from logbook.reports.month import answer as review
    from logbook.reports.month.written import html as month_html
    from logbook.reports.month.written import markdown as month_markdown
    from logbook.reports.month.written import text as month_text

    if sum((html is not None, markdown, as_json)) > 1:
        raise click.UsageError("--html, --markdown and --json are three forms of the review: ask for one at a time")
    size_mm = _size(size)
    if html is not None:
        refuse_what_is_there(html, replace=replace)
    with reading_log(today) as log:
        paper_id, printer_id = _ids(log, paper, printer)
        try:
            answer = review.answer(log, month=month, paper=paper_id, printer=printer_id, size=size_mm)
        except ValueError as error:
            raise click.UsageError(f"--month: {error}") from error
    if html is not None:
        month_html.write_html(html, answer, replace=replace)
        click.echo(f"Wrote {shown(str(html))}")
    else:
        print_answer(answer, month_markdown.as_markdown if markdown else month_text.as_text, as_json)


def _size(typed: str | None) -> tuple[float, float] | None:
    from logbook.records.units import parse_size

    try:
        return parse_size(typed) if typed is not None else None
    except ValueError as error:
        raise click.UsageError(f"--size: {error}") from error
