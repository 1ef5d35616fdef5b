"""Who pays for what: everything that drew on one ink, in time order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import IntEnum
from typing import NamedTuple

import numpy as np

from logbook.analysis.ink.events import (
    PARTS_OF_A_DAY,
    Span,
    black_loaded,
    cleaning_groups,
    days_passed,
    free_cleanings,
    spans,
    spells_ended,
)
from logbook.analysis.ink.log import CartridgeUse, CleaningDone, Floats, InkLog, black_of
from logbook.analysis.ink.unlogged import days_unlogged
from logbook.analysis.numeric.arrays import NDArray
from logbook.records import long_work
from logbook.records.wording import ink_text

__all__ = [
    "AREA",
    "IDLE",
    "SPELL",
    "Column",
    "Draws",
    "Kind",
    "Split",
    "Timeline",
    "draws_on",
    "has_noted_ink",
    "kinds_of",
    "noted_per_m2",
    "timeline",
]

#: What a rate is for: the area printed with a black, a strength of cleaning, a direction of changeover (from, to), a day
#: or an idle spell of the printer's own.
Column = str | tuple[str, str]
AREA: dict[str, Column] = {"matte": "area with matte", "photo": "area with photo"}
IDLE: Column = "a day"
SPELL: Column = "an idle spell"


class Kind(IntEnum):
    """Where ink goes."""

    PRINTS = 0
    CLEANINGS = 1
    CHANGEOVERS = 2
    IDLE = 3
    UNLOGGED = 4


@dataclass(frozen=True)
class Timeline:
    """What all inks of a printer share: spans of the changeovers, the cleanings outside them, and the black loaded then.

    ``idle`` are the moments at which a day was over and an idle spell ended; ``amount`` (n,) is each print's area, or
    the area that would take the ink noted with it; ``unlogged`` are the areas printed with a black and never logged.
    """

    spans: tuple[Span, ...]
    cleanings: tuple[CleaningDone, ...]
    cleaning_rate: dict[str | None, str]
    cleaning_black: tuple[str | None, ...]
    idle: tuple[tuple[float, Column, str | None], ...]
    amount: Floats
    unlogged: tuple[tuple[float, str, float], ...]


@dataclass(frozen=True)
class Split:
    """A changeover during which a cartridge was changed: nobody knows which of the two paid how much."""

    cartridge: str
    span: Span


@dataclass(frozen=True)
class Draws:
    """Draws on one ink (n,), in time order: when, for which column, and how much of it.

    ``event`` (n,) tells which of the log's prints it was, or, counted on from there, which changeover or free cleaning;
    what is not in the log comes after all of them. ``unlogged`` are the sheets that are not, ``noted`` the prints of which
    all ink is known; None: not one.
    """

    ink: str
    columns: tuple[Column, ...]
    at: Floats
    column: NDArray[np.int64]
    amount: Floats
    event: NDArray[np.int64]
    splits: tuple[Split, ...] = ()
    unlogged: NDArray[np.bool_] | None = None
    noted: NDArray[np.bool_] | None = None

    @property
    def kind(self) -> NDArray[np.int64]:
        """Where each draw's ink went (n,)."""
        kind = kinds_of(self.columns)[self.column] if self.columns else self.column
        return kind if self.unlogged is None else np.where(self.unlogged, Kind.UNLOGGED, kind)

    def of(self, *kinds: Kind) -> NDArray[np.bool_]:
        """Which of the columns (k,) are of these kinds."""
        return np.isin(kinds_of(self.columns), kinds)


def kinds_of(columns: Sequence[Column]) -> NDArray[np.int64]:
    """Where the ink of each of ``columns`` (k,) goes.

    >>> kinds_of([AREA["photo"], "deep", ("matte", "photo"), IDLE]).tolist()
    [0, 1, 2, 3]
    """
    return np.array([_kind(column) for column in columns], dtype=np.int64)


def _kind(column: Column) -> Kind:
    if isinstance(column, tuple):
        return Kind.CHANGEOVERS
    return Kind.PRINTS if column in AREA.values() else Kind.IDLE if column in (IDLE, SPELL) else Kind.CLEANINGS


def timeline(log: InkLog) -> Timeline:
    """Put the changeovers, the cleanings and the printer's idle days of a log in their place."""
    found = spans(log)
    cleanings = free_cleanings(log, found)
    loaded = black_loaded(log, found, np.array([cleaning.at for cleaning in cleanings]))
    idle = [(IDLE, days_passed(log)), (SPELL, spells_ended(log))]
    alone = [
        (float(at), column, black)
        for column, moments in idle
        for at, black in zip(moments, black_loaded(log, found, moments), strict=True)
    ]
    amount = _amounts(log)
    beyond = 0.0 if log.unlogged is None else log.unlogged.per_logged
    missing = days_unlogged(beyond, log.print_at, amount, log.print_black) if beyond else []
    return Timeline(
        tuple(found), tuple(cleanings), cleaning_groups(cleanings), tuple(loaded), tuple(alone), amount, tuple(missing)
    )


def has_noted_ink(log: InkLog) -> NDArray[np.bool_]:
    """Which of the log's prints (n,) have their ink noted, so that it needs no rate."""
    return np.asarray(np.isfinite(log.print_ml) & (log.print_ml > 0.0) & (log.print_m2 > 0.0))


def noted_per_m2(log: InkLog) -> dict[str, float]:
    """ml per m² that the ink noted with prints comes to, all inks together, by the black they used."""
    rates = {}
    for black in AREA:
        own = has_noted_ink(log) & (log.print_black == black)
        if np.any(own):
            rates[black] = float(np.sum(log.print_ml[own]) / np.sum(log.print_m2[own]))
    return rates


def _amounts(log: InkLog) -> Floats:
    """Areas, but where ink is noted the area that such prints take so much ink for: a draw known beforehand."""
    amount = log.print_m2.astype(np.float64)
    for black, rate in noted_per_m2(log).items():
        own = has_noted_ink(log) & (log.print_black == black)
        amount[own] = log.print_ml[own] / rate
    return amount


class _Row(NamedTuple):
    at: float
    column: Column
    event: int
    amount: float = 1.0
    unlogged: bool = False


def draws_on(log: InkLog, line: Timeline, ink: str) -> Draws:
    """All draws on ``ink``: the prints that used it, the cleanings and days while it was loaded, the changeovers that flush it.

    A black pays for the changeovers that bring it in, never for those that take it out.
    """
    long_work.step(f"accounting for {ink_text(ink)}")
    black = black_of(ink)
    used = np.ones(len(log.print_at), dtype=bool) if black is None else log.print_black == black
    rows: list[_Row] = []  # all but the prints, which are many
    exchanges_from = len(log.print_at)
    cleanings_from = exchanges_from + len(line.spans)
    alone = cleanings_from + len(line.cleanings)

    def drawing(loaded: str | None) -> bool:
        return black is None or not log.shared_black_slot or loaded in (black, None)

    for n, (cleaning, loaded) in enumerate(zip(line.cleanings, line.cleaning_black, strict=True)):
        if drawing(loaded):
            rows.append(_Row(cleaning.at, line.cleaning_rate[cleaning.strength], cleanings_from + n))
    splits: list[Split] = []
    own = [cartridge for cartridge in log.cartridges if cartridge.ink == ink]
    for n, span in enumerate(line.spans):
        if black in (None, span.exchange.to_black):
            at, split = _paid(own, span, incoming=black is not None)
            splits += [split] if split else []
            rows += [] if split else [_Row(at, span.exchange.direction, exchanges_from + n)]
    part = {IDLE: 1.0 / PARTS_OF_A_DAY, SPELL: 1.0}
    rows += [_Row(at, column, alone, part[column]) for at, column, loaded in line.idle if drawing(loaded)]
    rows += [_Row(at, AREA[own], alone, area, unlogged=True) for at, own, area in line.unlogged if black in (None, own)]
    return _in_order(ink, log, line.amount, np.flatnonzero(used), rows, tuple(splits))


def _paid(own: Sequence[CartridgeUse], span: Span, *, incoming: bool) -> tuple[float, Split | None]:
    """When the cartridge in use paid for a changeover; the split where two of them did."""
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
    print_amount: Floats,
    prints: NDArray[np.int64],
    rows: list[_Row],
    splits: tuple[Split, ...],
) -> Draws:
    """The draws of these prints of the log, and of ``rows``, by time; at one time prints first."""
    known = np.concatenate([has_noted_ink(log)[prints], np.zeros(len(rows), dtype=bool)])
    area = [AREA["photo" if black == "photo" else "matte"] for black in log.print_black[prints]]
    columns = sorted({*area, *(row.column for row in rows)}, key=lambda column: (_kind(column), str(column)))
    place = {column: n for n, column in enumerate(columns)}

    def placed(of: Iterable[Column]) -> NDArray[np.int64]:
        return np.array([place[column] for column in of], dtype=np.int64)

    at = np.concatenate([log.print_at[prints], np.array([row.at for row in rows], dtype=np.float64)])
    column = np.concatenate([placed(area), placed(row.column for row in rows)])
    amount = np.concatenate([print_amount[prints], np.array([row.amount for row in rows], dtype=np.float64)])
    unlogged = np.array([False] * len(prints) + [row.unlogged for row in rows], dtype=bool)
    event = np.concatenate([prints, np.array([row.event for row in rows], dtype=np.int64)])
    order = np.argsort(at, kind="stable")
    at, column, amount, event, unlogged, known = (one[order] for one in (at, column, amount, event, unlogged, known))
    return Draws(ink, tuple(columns), at, column, amount, event, splits, unlogged, known)
