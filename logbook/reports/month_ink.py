"""What the ink answers lend to the month: rates of the prints, and what changeovers and cleanings waste."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from logbook.records import Bench, Printer
from logbook.reports import ink_use
from logbook.reports.month_money import UpkeepRates
from logbook.store import Store, reading

__all__ = ["InkFigures", "bench_costs", "ink_figures"]


@dataclass(frozen=True)
class InkFigures:
    """``rates`` in ml per m² of image, by printer and ink; ``upkeep`` by printer."""

    rates: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    upkeep: UpkeepRates = field(default_factory=UpkeepRates)


def bench_costs(benches: Iterable[Bench]) -> dict[tuple[str, str], float]:
    """The bench's own figures for a changeover, by printer and direction; they go before what the ink tells."""
    return {(bench.printer, direction): cost for bench in benches for direction, cost in (bench.changeover_cost or {}).items()}


def ink_figures(store: Store) -> InkFigures:
    """What the log's readings tell of each printer; empty where there are none."""
    costs: dict[tuple[str, str], float] = {}
    rates: dict[str, dict[str, float]] = {}
    for printer in reading.every(store, Printer):
        rates[printer.id] = {ink: rate.value for ink, rate in ink_use.ink_rates(store, printer.id).items()}
        for (before, after), cost in ink_use.changeover_cost(store, printer.id).items():
            costs[printer.id, f"{before}->{after}"] = cost.value
    costs.update(bench_costs(reading.every(store, Bench)))
    return InkFigures(rates=rates, upkeep=UpkeepRates(changeover_cost=costs))
