"""Who pays for what: everything that drew on one ink, in time order."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.events import Span, black_loaded, cleaning_groups, free_cleanings, spans
from logbook.analysis.ink.log import CartridgeUse, CleaningDone, Floats, InkLog, black_of
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import long_work
from logbook.records.wording import ink_text

__all__ = ["AREA", "Column", "Draws", "Split", "Timeline", "draws_on", "timeline"]

#: What a rate is for: the area printed, a strength of cleaning, or a direction of exchange (from, to).
Column = str | tuple[str, str]
AREA: Column = "area"


@dataclass(frozen=True)
class Timeline:
    """What all inks of a printer share: spans of the exchanges, the cleanings outside them, the black loaded then."""

    spans: tuple[Span, ...]
    cleanings: tuple[CleaningDone, ...]
    cleaning_rate: dict[str | None, str]
    cleaning_black: tuple[str | None, ...]


@dataclass(frozen=True)
class Split:
    """An exchange during which a cartridge was changed: nobody knows which of the two paid how much."""

    cartridge: str
    span: Span


@dataclass(frozen=True)
class Draws:
    """Draws on one ink (n,), in time order: when, for which column, how much of it, and its squared area.

    ``event`` (n,) tells which of the log's prints it was, or, counted on from there, which exchange or free cleaning.
    """

    ink: str
    columns: tuple[Column, ...]
    at: Floats
    column: NDArray[np.int64]
    amount: Floats
    event: NDArray[np.int64]
    splits: tuple[Split, ...]


def timeline(log: InkLog) -> Timeline:
    """Put the exchanges and cleanings of a log in their place."""
    found = spans(log)
    cleanings = free_cleanings(log, found)
    loaded = black_loaded(log, found, np.array([cleaning.at for cleaning in cleanings]))
    return Timeline(tuple(found), tuple(cleanings), cleaning_groups(cleanings), tuple(loaded))


def draws_on(log: InkLog, line: Timeline, ink: str) -> Draws:
    """All draws on ``ink``: the prints that used it, the cleanings while it was loaded, the exchanges that flush it.

    A black pays for the exchanges that bring it in, never for those that take it out.
    """
    long_work.step(f"accounting for {ink_text(ink)}")
    black = black_of(ink)
    used = np.ones(len(log.print_at), dtype=bool) if black is None else log.print_black == black
    rows: list[tuple[float, Column, float, int]] = []  # all but the prints, which are many
    exchanges_from = len(log.print_at)
    cleanings_from = exchanges_from + len(line.spans)
    for n, (cleaning, loaded) in enumerate(zip(line.cleanings, line.cleaning_black, strict=True)):
        if black is None or not log.shared_black_slot or loaded in (black, None):
            rows.append((cleaning.at, line.cleaning_rate[cleaning.strength], 1.0, cleanings_from + n))
    splits: list[Split] = []
    own = [cartridge for cartridge in log.cartridges if cartridge.ink == ink]
    for n, span in enumerate(line.spans):
        if black in (None, span.exchange.to_black):
            at, split = _paid(own, span, incoming=black is not None)
            splits += [split] if split else []
            rows += [] if split else [(at, span.exchange.direction, 1.0, exchanges_from + n)]
    return _in_order(ink, log, np.flatnonzero(used), rows, tuple(splits))


def _paid(own: Sequence[CartridgeUse], span: Span, *, incoming: bool) -> tuple[float, Split | None]:
    """When the cartridge in use paid for an exchange; the split where two of them did."""
    during = [n for n, cartridge in enumerate(own) if span.start < cartridge.installed <= span.end]
    if not during:
        return span.at, None
    last = during[-1]
    gone = own[last - 1].removed if last else -np.inf
    if incoming and len(during) == 1 and gone is not None and gone <= span.start:
        return max(span.at, own[last].installed), None
    return (span.at, Split(own[last].id, span)) if last else (max(span.at, own[last].installed), None)


def _in_order(
    ink: str,
    log: InkLog,
    prints: NDArray[np.int64],
    rows: list[tuple[float, Column, float, int]],
    splits: tuple[Split, ...],
) -> Draws:
    """The draws of these prints of the log, and of ``rows`` (when, column, amount, event), by time; at one time prints first."""
    present = {row[1] for row in rows} | ({AREA} if len(prints) else set())
    columns = sorted(present, key=lambda column: (column != AREA, isinstance(column, tuple), str(column)))
    place = {column: n for n, column in enumerate(columns)}
    at = np.concatenate([log.print_at[prints], np.array([row[0] for row in rows], dtype=np.float64)])
    column = np.concatenate([np.zeros(len(prints), dtype=np.int64), np.array([place[row[1]] for row in rows], dtype=np.int64)])
    amount = np.concatenate([log.print_m2[prints], np.array([row[2] for row in rows], dtype=np.float64)])
    event = np.concatenate([prints, np.array([row[3] for row in rows], dtype=np.int64)])
    order = np.argsort(at, kind="stable")
    return Draws(ink, tuple(columns), at[order], column[order], amount[order], event[order], splits)
