"""Where the ink went: used = prints + changeovers + cleanings + unexplained, by ink and by month."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from logbook.analysis.ink.draws import AREA, Draws
from logbook.analysis.ink.fit import InkFit
from logbook.analysis.ink.log import Floats, InkLog, Reading, black_of
from logbook.analysis.ink.readings import Use
from logbook.analysis.numeric.arrays import NDArray

__all__ = ["Account", "account", "account_by_month", "measured_ml"]

#: Without the readings named on it, an exchange is measured by readings this near to it, with nothing drawn between.
NEAR_SECONDS = 6 * 3600.0

_PRINTS, _CHANGEOVERS, _CLEANINGS, _LEFT_OVER = 0, 1, 2, 3


@dataclass(frozen=True)
class Account:
    """Ink in ml: what was used, and what of it went where. The parts add up to ``used``."""

    used: float
    prints: float
    changeovers: float
    cleanings: float

    @property
    def unexplained(self) -> float:
        """What the prints, changeovers and cleanings of the log do not account for; below 0 where they take more."""
        return self.used - self.prints - self.changeovers - self.cleanings


def account(fit: InkFit) -> Account:
    """The account of one ink over all its cartridges, each up to its last reading."""
    parts = sum((_parts(fit, use) for use in fit.uses), np.zeros(3))
    return Account(sum(use.used_ml for use in fit.uses), *map(float, parts))


def account_by_month(fits: Mapping[str, InkFit]) -> dict[str, Account]:
    """All inks together, by month ("2026-11", of the time in UTC).

    A draw counts where it happened; what it leaves unexplained where the next reading was made.
    """
    months: dict[np.datetime64, Floats] = {}
    for fit in fits.values():
        drawn, kinds = _drawn(fit), _kinds(fit.draws)
        upto = np.concatenate([[0.0], np.cumsum(drawn)])
        for use in fit.uses:
            split = _split_ml(fit, use)
            explained = np.diff(upto[use.upto])
            explained[0] += split
            _add(months, use.at[:1], np.array([_CHANGEOVERS]), np.array([split]))
            _add(months, use.at[1:], np.full(len(use.at) - 1, _LEFT_OVER), use.fell_ml - explained)
            within = slice(use.upto[0], use.upto[-1])
            _add(months, fit.draws.at[within], kinds[within], drawn[within])
    return {str(month): Account(float(np.sum(parts)), *map(float, parts[:3])) for month, parts in sorted(months.items())}


def _add(months: dict[np.datetime64, Floats], at: Floats, kinds: NDArray[np.int64], ml: Floats) -> None:
    """Add some ml (n,) of the ``kinds`` (n,) to the parts of the months that they belong to."""
    found, place = np.unique(at.astype("datetime64[s]").astype("datetime64[M]"), return_inverse=True)
    sums = np.bincount(place * 4 + kinds, ml, minlength=4 * len(found)).reshape(-1, 4)
    for month, parts in zip(found, sums, strict=True):
        months[month] = months.get(month, np.zeros(4)) + parts


def measured_ml(log: InkLog, fits: Mapping[str, InkFit], exchange: int) -> float | None:
    """Before minus after of one of the log's exchanges, summed over the inks; None without both readings.

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
    """The reading just before or after an exchange, if nothing else drew ink between."""
    at = log.exchanges[exchange].at
    found = [one for one in log.readings if (at - NEAR_SECONDS <= one.at <= at if back else at < one.at <= at + NEAR_SECONDS)]
    if not found:
        return None
    nearest = found[-1] if back else found[0]
    first, last = sorted((at, nearest.at))
    for fit in fits.values():
        within = (fit.draws.at >= first) & (fit.draws.at <= last) & (fit.draws.event != len(log.print_at) + exchange)
        if np.any(within & (fit.draws.at != nearest.at if back else within)):
            return None
    return nearest


def _parts(fit: InkFit, use: Use) -> Floats:
    within = slice(use.upto[0], use.upto[-1])
    parts = np.bincount(_kinds(fit.draws)[within], _drawn(fit)[within], minlength=3).astype(np.float64)
    parts[_CHANGEOVERS] += _split_ml(fit, use)
    return parts


def _split_ml(fit: InkFit, use: Use) -> float:
    """What a cartridge that was put in during an exchange paid of it: its first fall beyond the rest, up to a whole one.

    Which of the two cartridges paid how much is not known otherwise.
    """
    if use.split is None:
        return 0.0
    rest = float(np.sum(_drawn(fit)[use.upto[0] : use.upto[1]]))
    return min(max(float(use.fell_ml[0]) - rest, 0.0), fit.rate(use.split.exchange.direction))


def _drawn(fit: InkFit) -> Floats:
    """Expected ml of each draw on the ink."""
    return np.asarray(fit.rates[fit.draws.column] * fit.draws.amount) if len(fit.draws.at) else np.zeros(0)


def _kinds(draws: Draws) -> NDArray[np.int64]:
    kinds = [_PRINTS if column == AREA else _CHANGEOVERS if isinstance(column, tuple) else _CLEANINGS for column in draws.columns]
    return np.array(kinds, dtype=np.int64)[draws.column] if kinds else np.zeros(0, dtype=np.int64)
