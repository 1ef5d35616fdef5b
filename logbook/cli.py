"""``logbook``: the program in the terminal, and the commands beside it."""

from __future__ import annotations

import sys

import click

import logbook
from logbook.commands import adopting, demonstration, file, gauge, jobs, label, pictures, records, reports, sheets
from logbook.commands.shared import Commands, logbook_path, on_file, open_program
from logbook.records.units import show_lengths_in
from logbook.tui.running.settings import read_settings, settings_path


@click.group(cls=Commands, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@on_file
@click.version_option(logbook.__version__, prog_name="logbook")
@click.pass_context
def cli(context: click.Context) -> None:
    """Log prints at the printer, review them monthly, and see when a matte or photo batch is due.

    Without a command the logbook opens in the terminal.
    """
    show_lengths_in(read_settings(settings_path()).lengths)
    if context.invoked_subcommand is None:
        open_program(logbook_path())


for command in (
    demonstration.demo,
    records.import_,
    records.export,
    adopting.adopt,
    records.merge,
    reports.report,
    pictures.inspect,
    pictures.prepare,
    sheets.strip,
    sheets.wedge,
    sheets.measure,
    label.label,
    gauge.gauge,
    jobs.jobs,
    file.backup,
    file.restore,
    file.check,
    file.recover,
):
    cli.add_command(command)


def main() -> None:
    """The program's entry."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="replace")  # a terminal that lacks a sign shows another, not a traceback
    cli(prog_name="logbook")
