"""What the batch answer stands on: the bench, its days, the price of a changeover, and how many prints arrive."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from itertools import takewhile

import numpy as np

from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.problem import Terms
from logbook.analysis.batch.rule import Flow
from logbook.analysis.numeric import poisson
from logbook.analysis.numeric.interval import Interval
from logbook.records import Bench, Changeover, Paper, Printer
from logbook.records.fields import BLACKS, Black, Direction
from logbook.reports.batch.model import Basis, Changes, CostSource
from logbook.reports.ink import use as ink_use
from logbook.snapshot import Snapshot
from logbook.snapshot.away import times_away
from logbook.store.columns import Prints

__all__ = ["DIRECTIONS", "basis_of", "bench_of", "days_ahead", "flow_of", "reverse", "terms_of"]

DIRECTIONS: tuple[Direction, Direction] = ("matte->photo", "photo->matte")
COUNTED_DAYS = 182
YEAR_DAYS = 366
USUAL_BENCH = Bench(
    id="usual",
    printer="none",
    weekdays=(1, 2, 3, 4, 5),
    minutes_per_day=240,
    minutes_per_print=20,
    changeover_minutes=45,
)
NOTHING = Interval(0.0, 0.0, 0.0)


def reverse(direction: Direction) -> Direction:
    """The way back.

    >>> reverse("matte->photo")
    'photo->matte'
    """
    return DIRECTIONS[1 - DIRECTIONS.index(direction)]


def bench_of(log: Snapshot, printer: Printer | None) -> Bench | None:
    """The printer's bench, the one entered last; None where there is none."""
    benches = log.of_printer(Bench, printer.id) if printer is not None else []
    return benches[-1] if benches else None


def basis_of(log: Snapshot, printer: Printer | None, changes: Changes | None = None, *, arrivals: bool = True) -> Basis:
    """Everything that the answer is worked out with; ``arrivals`` are counted in the log, which the plan does not need."""
    bench = bench_of(log, printer) or USUAL_BENCH
    costs, source = _changeover_costs(log, printer, bench, changes or Changes())
    rates, counted, days = _arrivals(log, printer, bench) if arrivals else (None, None, None)
    return Basis(
        printer=printer.id if printer is not None else None,
        shared_black_slot=printer is None or printer.shared_black_slot,
        weekdays=bench.weekdays,
        minutes_per_day=bench.minutes_per_day,
        minutes_per_print=bench.minutes_per_print,
        changeover_minutes=bench.changeover_minutes,
        changeover_cost=costs,
        cost_from=source,
        changeovers=len(log.of_printer(Changeover, printer.id)) if printer is not None else 0,
        prints_per_bench_day=rates,
        prints_counted=counted,
        days_counted=days,
        waiting_cost=bench.waiting_cost,
    )


def _changeover_costs(
    log: Snapshot, printer: Printer | None, bench: Bench, changes: Changes
) -> tuple[dict[Direction, Interval], dict[Direction, CostSource]]:
    """Money of each direction: supposed, else the bench's own figure, else the ink analysis, else the way back's."""
    told: dict[Direction, float] = {**(bench.changeover_cost or {}), **changes.changeover_cost}
    costs: dict[Direction, Interval] = {way: Interval(money, money, money) for way, money in told.items()}
    source: dict[Direction, CostSource] = dict.fromkeys(costs, "bench")
    if len(costs) < len(DIRECTIONS) and printer is not None:
        for (before, after), cost in ink_use.changeover_cost(log, printer.id).items():
            way = DIRECTIONS[0] if (before, after) == BLACKS else DIRECTIONS[1]
            if way not in costs:
                costs[way], source[way] = cost.clipped(0.0), "log"
    for way in DIRECTIONS:
        if way not in costs:
            back = reverse(way)
            costs[way], source[way] = (costs[back], "the other direction") if back in costs else (NOTHING, "nothing")
    return costs, source


def _arrivals(
    log: Snapshot, printer: Printer | None, bench: Bench
) -> tuple[dict[Black, Interval] | None, int | None, int | None]:
    """Prints of each black per bench day (None where nothing tells), and the prints and bench days they were counted on."""
    said = bench.prints_per_bench_day
    if said is not None:
        rates = {"matte": said.matte, "photo": said.photo}
        return {black: Interval(rates[black], rates[black], rates[black]) for black in BLACKS}, None, None
    today = log.day
    since = today - dt.timedelta(days=COUNTED_DAYS - 1)
    year = prints_of_a_year(log, printer.id if printer is not None else None)
    prints = year.where(year.day >= np.datetime64(since))
    if not len(prints):
        return None, None, None
    first = max(since, prints.day[0].astype(dt.date))
    days = sum(1 for _ in takewhile(lambda day: day <= today, bench_days(first, bench.weekdays, times_away(log))))
    if not days:
        return None, len(prints), 0
    needed = black_of_papers(log)
    blacks = np.array([needed.get(paper) for paper in prints.paper], dtype=object)
    counts = {black: int((blacks == black).sum()) for black in BLACKS}
    return {black: poisson.rate(count, days) for black, count in counts.items()}, len(prints), days


def prints_of_a_year(log: Snapshot, printer: str | None) -> Prints:
    """The prints that tell how many arrive, and how large they are."""
    return log.prints(log.day - dt.timedelta(days=YEAR_DAYS), log.day, printer=printer)


def black_of_papers(log: Snapshot) -> dict[str, Black]:
    """The black that each paper needs, by paper id."""
    return {paper.id: paper.black for paper in log.all(Paper)}


def terms_of(basis: Basis, at: str = "value") -> Terms:
    """The plan's terms, with the changeovers' cost at ``value``, ``low`` or ``high``.

    A printer with a slot for each black exchanges nothing: no cost, no minutes.
    """
    if not basis.shared_black_slot:
        return Terms(basis.minutes_per_day, 0.0, 0.0, 0.0)
    to_photo, to_matte = (float(getattr(basis.changeover_cost[way], at)) for way in DIRECTIONS)
    return Terms(basis.minutes_per_day, basis.changeover_minutes, to_matte, to_photo)


def flow_of(basis: Basis, at: str = "value") -> Flow | None:
    """What arrives and what a bench day does with it, or None where nobody knows how many prints arrive."""
    if basis.prints_per_bench_day is None:
        return None
    terms, rates = terms_of(basis, at), basis.prints_per_bench_day
    return Flow(
        rates["matte"].value,
        rates["photo"].value,
        _room(terms.minutes_per_day, basis.minutes_per_print),
        _room(terms.minutes_per_day - terms.changeover_minutes, basis.minutes_per_print),
        terms.cost_to_matte,
        terms.cost_to_photo,
        basis.waiting_cost,
    )


def _room(minutes: float, per_print: float) -> int:
    return max(0, int(minutes / per_print + 1e-9))


def days_ahead(log: Snapshot, basis: Basis) -> Iterator[dt.date]:
    """The bench days from the day on, without those away."""
    return bench_days(log.day, basis.weekdays, times_away(log))
