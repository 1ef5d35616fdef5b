"""Changeovers and cleanings in their place: when each began and ended, and which cleaning belongs to which changeover."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.log import CleaningDone, Exchange, Floats, InkLog

__all__ = [
    "PARTS_OF_A_DAY",
    "POOLED",
    "Span",
    "black_loaded",
    "cleaning_groups",
    "days_passed",
    "free_cleanings",
    "spans",
    "spells_ended",
]

#: A changeover takes "most of an hour" where its minutes were not noted (common practice, no source).
USUAL_MINUTES = 60.0
#: A draw just after a reading: far below a second, far above what a Unix time in float64 tells apart.
JUST_AFTER = 1e-3
#: Fewer cleanings of a strength than this are pooled.
FEWEST_CLEANINGS = 3
DAY_SECONDS = 86_400.0
#: What the printer draws by itself is counted so many times a day: a whole day at once would come hours before or after
#: the readings that saw a part of it go.
PARTS_OF_A_DAY = 4
#: Printers that stood for longer than this clean themselves before they print again (common practice, no source).
SPELL_DAYS = 4.0
#: With fewer idle spells than this they get no rate.
FEWEST_SPELLS = 3
#: What joins the names of strengths that share a rate.
POOLED = " and "


@dataclass(frozen=True)
class Span:
    """A changeover between ``start`` and ``end`` (Unix s); its ink counts as drawn at ``at``.

    ``measured`` holds where it has both readings: nothing read strictly between them is used.
    """

    exchange: Exchange
    start: float
    at: float
    end: float
    measured: bool


def spans(log: InkLog) -> list[Span]:
    """When each changeover of the log happened, in time order.

    The readings named on it fix its place, whatever the minute that was noted. Where one is missing, it lasts
    as long as noted on either side of its time, but never across a print.
    """
    prints = np.sort(log.print_at)
    return sorted((_span(log, prints, exchange) for exchange in log.exchanges), key=lambda span: span.at)


def _span(log: InkLog, prints: Floats, exchange: Exchange) -> Span:
    before = log.reading_by_id.get(exchange.before or "")
    after = log.reading_by_id.get(exchange.after or "")
    if before is not None and after is not None and before.at >= after.at:
        before = after = None
    # The time noted is when it began: a reading of that very time was made before it.
    at = exchange.at + JUST_AFTER
    if before is not None:
        at = max(at, before.at + JUST_AFTER)
    if after is not None:
        at = min(at, after.at)
    lasts = 60.0 * (exchange.minutes or USUAL_MINUTES)
    earlier, later = prints[: np.searchsorted(prints, at)], prints[np.searchsorted(prints, at, side="right") :]
    start = max(before.at if before else at - lasts, float(earlier[-1]) if len(earlier) else -np.inf)
    end = min(after.at if after else at + lasts, float(later[0]) if len(later) else np.inf)
    return Span(exchange, start, at, end, before is not None and after is not None)


def free_cleanings(log: InkLog, found: Sequence[Span]) -> list[CleaningDone]:
    """The cleanings that belong to no changeover: those inside one are part of its waste.

    A changeover that says how many cleanings it took keeps that many, the nearest.
    """
    inside: set[int] = set()
    for span in found:
        begins = span.start if span.exchange.before else span.at
        candidates = [n for n, cleaning in enumerate(log.cleanings) if begins <= cleaning.at <= span.end and n not in inside]
        candidates.sort(key=lambda n: abs(log.cleanings[n].at - span.at))
        said = span.exchange.cleanings
        inside.update(candidates if said is None else candidates[:said])
    return [cleaning for n, cleaning in enumerate(log.cleanings) if n not in inside]


def cleaning_groups(cleanings: Sequence[CleaningDone]) -> dict[str | None, str]:
    """The name of the rate that each strength shares: its own, or a pooled one where there are fewer than three.

    >>> done = [CleaningDone(0, "light")] * 5 + [CleaningDone(0, "deep")]
    >>> cleaning_groups(done)
    {'light': 'light and deep', 'deep': 'light and deep'}
    """
    counts = Counter(cleaning.strength for cleaning in cleanings)
    rare = [strength for strength, count in counts.items() if count < FEWEST_CLEANINGS]
    common = [strength for strength in counts if strength not in rare]
    if rare and sum(counts[strength] for strength in rare) < FEWEST_CLEANINGS and common:
        rare.insert(0, common.pop(common.index(min(common, key=lambda strength: counts[strength]))))
    pooled = POOLED.join(strength or "unnoted" for strength in rare)
    return {strength: strength or "unnoted" for strength in common} | dict.fromkeys(rare, pooled)


def black_loaded(log: InkLog, found: Sequence[Span], moments: Floats) -> list[str | None]:
    """The black that was loaded at each of ``moments`` (n,), None where nothing in the log tells."""
    if found:
        place = np.searchsorted([span.at for span in found], moments, side="right")
        return [found[n - 1].exchange.to_black if n else found[0].exchange.from_black for n in place]
    if log.black_at_start is not None or not len(log.print_at):
        return [log.black_at_start] * len(moments)
    order = np.argsort(log.print_at, kind="stable")
    place = np.maximum(np.searchsorted(log.print_at[order], moments, side="right") - 1, 0)
    return [str(log.print_black[order[n]]) for n in place]


def days_passed(log: InkLog) -> Floats:
    """The moments (Unix s) at which another part of a day was over, from the first reading or cartridge to what came last."""
    read = [one.at for one in log.readings]
    if not read:
        return np.zeros(0)
    first = min([*read, *(cartridge.installed for cartridge in log.cartridges)])
    last = max(
        [
            read[-1],
            float(np.max(log.print_at, initial=read[-1])),
            *(one.at for one in log.exchanges),
            *(one.at for one in log.cleanings),
        ]
    )
    part = DAY_SECONDS / PARTS_OF_A_DAY
    return part * np.arange(first // part + 1, last // part + 1)


def spells_ended(log: InkLog) -> Floats:
    """The moments (Unix s) at which the printer was used again after an idle spell; none where these are too few."""
    used = [*log.print_at, *(one.at for one in log.exchanges), *(one.at for one in log.cleanings)]
    at = np.sort(np.array(used, dtype=np.float64))
    ended = at[1:][np.diff(at) > SPELL_DAYS * DAY_SECONDS]
    return ended if len(ended) >= FEWEST_SPELLS else np.zeros(0)
