"""The demonstration, opened or printed."""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path
from tempfile import TemporaryDirectory

import click

from logbook.commands.shared import day, open_program, today_or


@click.command()
@click.option("--today", type=day, metavar="DAY", help="The day on which the demonstration ends.")
def demo(today: date | None) -> None:
    """Open a throw-away copy of the demonstration logbook; without a terminal, print the four reports on it."""
    import demo_db

    with TemporaryDirectory(prefix="logbook-demo-") as folder:
        path = Path(folder) / "demonstration.db"
        demo_db.build(path, today_or(today))
        if sys.stdout.isatty() and sys.stdin.isatty():
            open_program(path, "demonstration")
        else:
            _print_reports(path, today_or(today))


def _print_reports(path: Path, today: date) -> None:
    from logbook.reports.batch import answer as batch
    from logbook.reports.batch import text as batch_text
    from logbook.reports.darkness import answer as darkness
    from logbook.reports.darkness import text as darkness_text
    from logbook.reports.ink import changeovers
    from logbook.reports.ink import text as changeovers_text
    from logbook.reports.month import answer as month
    from logbook.reports.month.written import text as month_text
    from logbook.snapshot import take
    from logbook.store import open_store

    with open_store(path) as store:
        log = take(store, today)
        for text in (
            darkness_text.as_text(darkness.answer(log)),
            changeovers_text.as_text(changeovers.answer(log)),
            batch_text.as_text(batch.answer(log)),
            month_text.as_text(month.answer(log)),
        ):
            click.echo(text.rstrip("\n") + "\n")
