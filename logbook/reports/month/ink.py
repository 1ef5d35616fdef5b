"""What the ink answers lend to the month: rates of the prints, and what each changeover and cleaning took."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from logbook.analysis.ink.account import measured_ml
from logbook.analysis.ink.answer import InkUse
from logbook.analysis.ink.draws import AREA, Column
from logbook.analysis.ink.log import black_of
from logbook.records import Bench, Changeover, Cleaning, Printer
from logbook.reports.ink.columns import price_per_ml
from logbook.reports.ink.use import ink_use_of
from logbook.snapshot import Snapshot, answered

__all__ = ["InkFigures", "Waste", "bench_costs", "ink_figures"]


@dataclass(frozen=True)
class Waste:
    """What one changeover or cleaning took: ml and money, None where the log cannot tell."""

    ink_ml: float | None = None
    cost: float | None = None


@dataclass(frozen=True)
class InkFigures:
    """``rates`` in ml per m² of image, by (printer, black) and ink; ``waste`` by the id of the changeover or cleaning."""

    rates: Mapping[tuple[str, str], Mapping[str, float]] = field(default_factory=dict)
    waste: Mapping[str, Waste] = field(default_factory=dict)


@answered
def ink_figures(log: Snapshot) -> InkFigures:
    """What the log's readings tell of each printer; nothing where there are none."""
    rates: dict[tuple[str, str], dict[str, float]] = {}
    waste: dict[str, Waste] = {}
    own = bench_costs(log.all(Bench))
    for printer in log.all(Printer):
        use, prices = ink_use_of(log, printer), price_per_ml(log, printer)
        for black, column in AREA.items():
            found = {ink: fit.interval(column) for ink, fit in use.fits.items()}
            rates[printer.id, black] = {ink: rate.value for ink, rate in found.items() if rate is not None}
        waste |= _changeovers(use, log.of_printer(Changeover, printer.id), prices, own)
        waste |= _cleanings(use, log.of_printer(Cleaning, printer.id), prices)
    return InkFigures(rates=rates, waste=waste)


def bench_costs(benches: Iterable[Bench]) -> dict[tuple[str, str], float]:
    """The bench's own figures for a changeover, by printer and direction; they go before what the ink tells."""
    return {(bench.printer, direction): cost for bench in benches for direction, cost in (bench.changeover_cost or {}).items()}


def _changeovers(
    use: InkUse, done: Iterable[Changeover], prices: dict[str, float], own: Mapping[tuple[str, str], float]
) -> dict[str, Waste]:
    """Each changeover by its own readings where it has them, else by the estimate for its direction."""
    place = {exchange.id: n for n, exchange in enumerate(use.log.exchanges)}
    directions = dict.fromkeys(exchange.direction for exchange in use.log.exchanges)
    usual = {direction: _together(use, direction, prices) for direction in directions}
    found = {}
    for one in done:
        direction = (one.from_black, one.to_black)
        measured = measured_ml(use.log, use.fits, place[one.id])
        noted = own.get((one.printer, f"{one.from_black}->{one.to_black}"))
        found[one.id] = Waste(
            ink_ml=usual[direction].ink_ml if measured is None else measured,
            cost=usual[direction].cost if noted is None else noted,
        )
    return found


def _cleanings(use: InkUse, done: Iterable[Cleaning], prices: Mapping[str, float]) -> dict[str, Waste]:
    """Each cleaning by the rate of its strength; those that belong to a changeover are part of its waste."""
    loaded = {
        (cleaning.at, cleaning.strength): black
        for cleaning, black in zip(use.line.cleanings, use.line.cleaning_black, strict=True)
    }
    found = {}
    for one in done:
        key = (one.at.timestamp(), one.strength)
        if key in loaded:
            found[one.id] = _cleaning(use, use.line.cleaning_rate[one.strength], loaded[key], prices)
        else:
            found[one.id] = Waste(ink_ml=0.0, cost=0.0)
    return found


def _cleaning(use: InkUse, column: Column, loaded: str | None, prices: Mapping[str, float]) -> Waste:
    """A cleaning draws on the inks in the lines: every colour, and the black that is loaded."""
    lone = loaded is None or not use.log.shared_black_slot
    drawn = [ink for ink in use.fits if lone or black_of(ink) in (None, loaded)]
    return _together(use, column, prices, drawn)


def _together(use: InkUse, column: Column, prices: Mapping[str, float], inks: Iterable[str] | None = None) -> Waste:
    """What the inks (all where not given) pay for one event of that column."""
    found = {ink: use.fits[ink].interval(column) for ink in (use.fits if inks is None else inks)}
    ml = {ink: rate.value for ink, rate in found.items() if rate is not None}
    priced = [amount * prices[ink] for ink, amount in ml.items() if ink in prices]
    return Waste(ink_ml=sum(ml.values()) if ml else None, cost=sum(priced) if priced else None)
