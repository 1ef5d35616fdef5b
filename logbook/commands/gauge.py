"""A gauge round asked of the printer itself."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from logbook.commands.shared import Said, on_file, writing_store
from logbook.commands.watching import every, seconds, spoken
from logbook.records.text import plain

if TYPE_CHECKING:
    from collections.abc import Sequence

    from logbook.actions.reading_levels import Reading
    from logbook.link import Address, Supply
    from logbook.store import Store


@click.command()
@click.option(
    "--from", "url", metavar="URL", help="ipp://HOST/ipp/print, ipps://… or snmp://HOST[?community=…]; kept for the next time."
)
@click.option("--printer", metavar="NAME", help="The printer of the logbook, by name or id.")
@click.option("--match", "matches", multiple=True, metavar="INDEX=INK", help="Say which ink a supply of the printer is.")
@click.option(
    "--watch", "every_s", callback=seconds, metavar="TIME", help="Ask again every TIME (10m); log only levels that moved."
)
@click.option("--json", "as_json", is_flag=True, help="As JSON, one line a reading.")
@on_file
def gauge(url: str | None, printer: str | None, matches: tuple[str, ...], every_s: int | None, as_json: bool) -> None:
    """Ask the printer for its ink levels, and log them as a gauge round.

    Without --from it asks the address that is kept with the printer. Nothing else is contacted.
    """
    with writing_store() as store:
        printer_id, address = _whom(store, printer, url)
    if every_s is None:
        _round(printer_id, address, url is not None, matches, as_json, only_moved=False)
        return
    click.echo(f"Asking {address} every {spoken(every_s)} until stopped (ctrl-c)", err=True)
    every(every_s, lambda: _round(printer_id, address, url is not None, matches, as_json, only_moved=True))


def _whom(store: Store, printer: str | None, url: str | None) -> tuple[str, Address]:
    from logbook.actions import reading_levels
    from logbook.link import parse_address
    from logbook.reports.shared.naming import printer_id
    from logbook.snapshot import take
    from logbook.snapshot.printer import printer_in_use

    if printer is not None:
        known = printer_id(take(store), printer)
    elif (found := printer_in_use(take(store))) is not None:
        known = found.id
    else:
        raise Said("describe the printer first: open the logbook, or import its record")
    address = parse_address(url) if url is not None else reading_levels.address_of(store, known)
    if address is None:
        raise Said("no address is kept with this printer yet: --from ipp://HOST/ipp/print or --from snmp://HOST")
    return known, address


def _round(printer: str, address: Address, keep: bool, matches: Sequence[str], as_json: bool, *, only_moved: bool) -> None:
    """Ask once, with the logbook closed, and log what came. The address is kept once it has answered."""
    from logbook.actions import reading_levels
    from logbook.link import ask

    supplies = ask(address)
    with writing_store() as store:
        if keep:
            reading_levels.keep_address(store, printer, address.whole)
        if matches:
            _keep_matches(store, printer, supplies, matches)
        read = reading_levels.in_inks(store, printer, supplies)
        entry = reading_levels.log_reading(store, read, only_moved=only_moved)
    _print(read, entry.said if entry is not None else None, as_json)


def _keep_matches(store: Store, printer: str, supplies: Sequence[Supply], typed: Sequence[str]) -> None:
    """Keep what ``--match`` says, and what is sure of the rest."""
    import msgspec

    from logbook.actions import reading_levels

    said = dict(_match(one) for one in typed)
    strange = set(said) - {one.index for one in supplies if one.kind == "ink"}
    if strange:
        raise click.UsageError(f"--match: the printer lists no ink supply {min(strange)}")
    told = set(said.values())
    proposed = reading_levels.proposed_matches(store, printer, supplies)
    free = [msgspec.structs.replace(match, ink=None) if match.ink in told else match for match in proposed]
    matched = [msgspec.structs.replace(match, ink=said.get(match.index, match.ink)) for match in free]
    reading_levels.keep_matches(store, printer, matched)


def _match(typed: str) -> tuple[int, str | None]:
    index, equals, ink = typed.partition("=")
    if not equals or not index.strip().isdecimal() or len(index) > 9:
        raise click.UsageError(f"--match {typed!r}: type INDEX=INK, or INDEX=none for no ink of the logbook")
    name = ink.strip().lower().replace(" ", "_").replace("-", "_")
    return int(index), None if name in ("", "none") else name


def _print(read: Reading, said: str | None, as_json: bool) -> None:
    from logbook.actions import reading_levels

    if as_json:
        import json

        click.echo(json.dumps({**reading_levels.as_data(read), "logged": said is not None}, ensure_ascii=False))
        return
    click.echo(f"{read.at:%H:%M}  {said or 'No level has moved'}")
    if said is not None:
        for line in reading_levels.lines_of(read):
            click.echo(f"  {plain(line)}")
    if read.matched_anew:
        click.echo("  The supplies were matched to the inks by their names; Shelf shows and changes it")
