"""Where the ink went: used = prints + changeovers + cleanings + idle + unlogged + unexplained, by ink and by month."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.draws import Kind
from logbook.analysis.ink.fit import InkFit
from logbook.analysis.ink.log import Floats, InkLog, Reading, black_of
from logbook.analysis.ink.readings import Use
from logbook.analysis.numeric.arrays import NDArray

__all__ = ["Account", "account", "account_by_month", "measured_ml"]

#: Without the readings named on it, a changeover is measured by readings this near to it, with nothing drawn between.
NEAR_SECONDS = 6 * 3600.0

_KINDS = len(Kind)
_LEFT_OVER = _KINDS


@dataclass(frozen=True)
class Account:
    """Ink in ml: what was used, and what of it went where. The parts add up to ``used``."""

    used: float
    prints: float
    changeovers: float
    cleanings: float
    idle: float = 0.0
    unlogged: float = 0.0

    @property
    def unexplained(self) -> float:
        """What nothing else accounts for; below 0 where the rest comes to more than the gauge saw go."""
        return self.used - self.prints - self.changeovers - self.cleanings - self.idle - self.unlogged


def _account(used: float, parts: Floats) -> Account:
    """Of ml used, and ``parts`` by ``Kind`` (5,)."""
    by = dict(zip(Kind, map(float, parts), strict=True))
    return Account(used, by[Kind.PRINTS], by[Kind.CHANGEOVERS], by[Kind.CLEANINGS], by[Kind.IDLE], by[Kind.UNLOGGED])


def account(fit: InkFit) -> Account:
    """The account of one ink over all its cartridges, each up to its last reading."""
    parts = sum((_parts(fit, use) for use in fit.uses), np.zeros(_KINDS))
    return _account(sum(use.used_ml for use in fit.uses), parts)


def account_by_month(fits: Mapping[str, InkFit]) -> dict[str, Account]:
    """All inks together, by month ("2026-11", of the time in UTC).

    A draw counts where it happened; what it leaves unexplained where the next reading was made.
    """
    months: dict[np.datetime64, Floats] = {}
    for fit in fits.values():
        drawn = fit.drawn_ml
        upto = np.concatenate([[0.0], np.cumsum(drawn)])
        for use in fit.uses:
            split = _split_ml(fit, use)
            explained = np.diff(upto[use.upto])
            explained[0] += split
            _add(months, use.at[:1], np.array([Kind.CHANGEOVERS]), np.array([split]))
            _add(months, use.at[1:], np.full(len(use.at) - 1, _LEFT_OVER), use.fell_ml - explained)
            within = slice(use.upto[0], use.upto[-1])
            _add(months, fit.draws.at[within], fit.draws.kind[within], drawn[within])
    return {str(month): _account(float(np.sum(parts)), parts[:_KINDS]) for month, parts in sorted(months.items())}


def _add(months: dict[np.datetime64, Floats], at: Floats, kinds: NDArray[np.int64], ml: Floats) -> None:
    """Add some ml (n,) of the ``kinds`` (n,) to the parts of the months that they belong to."""
    found, place = np.unique(at.astype("datetime64[s]").astype("datetime64[M]"), return_inverse=True)
    size = _KINDS + 1
    sums = np.bincount(place * size + kinds, ml, minlength=size * len(found)).reshape(-1, size)
    for month, parts in zip(found, sums, strict=True):
        months[month] = months.get(month, np.zeros(size)) + parts


def measured_ml(log: InkLog, fits: Mapping[str, InkFit], exchange: int) -> float | None:
    """Before minus after of one of the log's changeovers, summed over the inks; None without both readings.

    The incoming black's level before it is the last that is known; a first cartridge put in during it counts from its
    start. Where one took another's place in the middle, nobody read what the other had paid by then: None as well.
    """
    done = log.exchanges[exchange]
    if any(split.span.exchange.id == done.id for fit in fits.values() for split in fit.draws.splits):
        return None
    before = log.reading_by_id.get(done.before or "") or _near(log, fits, exchange, back=True)
    after = log.reading_by_id.get(done.after or "") or _near(log, fits, exchange, back=False)
    if before is None or after is None or before.at >= after.at:
        return None
    fell = [_fell(log, ink, before, after) for ink in after.levels if black_of(ink) != done.from_black]
    known = [ml for ml in fell if ml is not None]
    return float(sum(known)) if known else None


def _fell(log: InkLog, ink: str, before: Reading, after: Reading) -> float | None:
    own = [cartridge for cartridge in log.cartridges if cartridge.ink == ink and cartridge.installed <= after.at]
    if not own:
        return None
    start = own[-1].start_percent if own[-1].installed > before.at else before.levels.get(ink)
    if start is None:
        known = [one.levels[ink] for one in log.readings if own[-1].installed <= one.at <= before.at and ink in one.levels]
        start = known[-1] if known else own[-1].start_percent
    return None if start is None else own[-1].nominal_ml / 100.0 * (start - after.levels[ink])


def _near(log: InkLog, fits: Mapping[str, InkFit], exchange: int, *, back: bool) -> Reading | None:
    """The reading just before or after a changeover, if nothing else drew ink between."""
    at = log.exchanges[exchange].at
    found = [one for one in log.readings if (at - NEAR_SECONDS <= one.at <= at if back else at < one.at <= at + NEAR_SECONDS)]
    if not found:
        return None
    nearest = found[-1] if back else found[0]
    first, last = sorted((at, nearest.at))
    for fit in fits.values():
        within = (fit.draws.at >= first) & (fit.draws.at <= last) & (fit.draws.event != len(log.print_at) + exchange)
        within &= ~np.isin(fit.draws.kind, (Kind.IDLE, Kind.UNLOGGED))  # nobody knows when these drew
        if np.any(within & (fit.draws.at != nearest.at if back else within)):
            return None
    return nearest


def _parts(fit: InkFit, use: Use) -> Floats:
    within = slice(use.upto[0], use.upto[-1])
    parts = np.bincount(fit.draws.kind[within], fit.drawn_ml[within], minlength=_KINDS).astype(np.float64)
    parts[Kind.CHANGEOVERS] += _split_ml(fit, use)
    return parts


def _split_ml(fit: InkFit, use: Use) -> float:
    """What a cartridge that was put in during a changeover paid of it: its first fall beyond the rest, up to a whole one.

    Which of the two cartridges paid how much is not known otherwise.
    """
    if use.split is None:
        return 0.0
    rest = float(np.sum(fit.drawn_ml[use.upto[0] : use.upto[1]]))
    return min(max(float(use.fell_ml[0]) - rest, 0.0), fit.rate(use.split.exchange.direction))
