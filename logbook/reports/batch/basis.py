"""What the batch answer stands on: the bench, its days, the price of a changeover, and how many attempts a print takes."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator

import numpy as np

from logbook.analysis.batch.attempts import Attempts
from logbook.analysis.batch.bench_days import bench_days
from logbook.analysis.batch.problem import Terms
from logbook.analysis.batch.rule import Flow
from logbook.analysis.numeric.interval import Interval
from logbook.records import Bench, Changeover, Paper, Printer
from logbook.records.fields import BLACKS, Black, Direction
from logbook.reports.batch.arriving import arriving
from logbook.reports.batch.model import Basis, Changes, CostSource, Counted, PerBlackRate
from logbook.reports.ink import use as ink_use
from logbook.snapshot import Snapshot, answered
from logbook.snapshot.away import times_away
from logbook.snapshot.printer import printer_in_use
from logbook.store.columns import Prints

__all__ = [
    "DIRECTIONS",
    "attempts_of",
    "basis_of",
    "bench_of",
    "days_ahead",
    "flow_of",
    "printers_at_work",
    "reverse",
    "terms_of",
]

DIRECTIONS: tuple[Direction, Direction] = ("matte->photo", "photo->matte")
YEAR_DAYS = 365
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


def printers_at_work(log: Snapshot) -> list[Printer]:
    """The printer in use, then the others that have bench times."""
    benched = [log.get(Printer, bench.printer) for bench in log.all(Bench)]
    return list({one.id: one for one in (printer_in_use(log), *benched) if one is not None}.values())


def bench_of(log: Snapshot, printer: Printer | None) -> Bench | None:
    """The printer's bench, the one entered last; None where there is none."""
    benches = log.of_printer(Bench, printer.id) if printer is not None else []
    return benches[-1] if benches else None


def basis_of(log: Snapshot, printer: Printer | None, changes: Changes | None = None) -> Basis:
    """Everything that the answer is worked out with."""
    bench = bench_of(log, printer) or USUAL_BENCH
    costs, source = _changeover_costs(log, printer, bench, changes or Changes())
    others = tuple(one.name for one in printers_at_work(log) if printer is not None and one.id != printer.id)
    known = arriving(log, bench, shared=bool(others))
    return Basis(
        printer=printer.id if printer is not None else None,
        name=printer.name if printer is not None else None,
        others=others,
        shared_black_slot=printer is None or printer.shared_black_slot,
        weekdays=bench.weekdays,
        minutes_per_day=bench.minutes_per_day,
        minutes_per_print=bench.minutes_per_print,
        changeover_minutes=bench.changeover_minutes,
        changeover_cost=costs,
        cost_from=source,
        changeovers=len(log.of_printer(Changeover, printer.id)) if printer is not None else 0,
        prints_per_bench_day=known.rates if known is not None else None,
        orders_counted=known.orders if known is not None else None,
        weeks_counted=known.weeks if known is not None else None,
        season=known.season if known is not None else 1.0,
        attempts=_attempts(log),
        used_today=_used_today(log, printer, bench),
        waiting_cost=bench.waiting_cost,
        days_to_dry=bench.days_to_dry,
        patience_days=bench.patience_days,
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


@answered
def _attempts(log: Snapshot) -> dict[Black, Counted]:
    """Prints made and kept of each black in the last twelve months, strips left out."""
    prints = prints_of_a_year(log)
    needed = black_of_papers(log)
    blacks = np.array([needed.get(paper) for paper in prints.paper], dtype=object)
    made = {black: (blacks == black) & (prints.purpose != "strip") for black in BLACKS}
    return {
        black: Counted(prints=int(mask.sum()), keepers=int((mask & (prints.verdict == "keep")).sum()))
        for black, mask in made.items()
    }


def _used_today(log: Snapshot, printer: Printer | None, bench: Bench) -> float:
    """Minutes of the day that are gone: its prints at the bench's pace, its changeovers as noted or at the bench's pace."""
    if printer is None:
        return 0.0
    prints = int((prints_of_a_year(log, printer.id).day == np.datetime64(log.day)).sum())
    exchanges = [one for one in log.of_printer(Changeover, printer.id) if one.at.date() == log.day]
    noted = [bench.changeover_minutes if one.minutes is None else one.minutes for one in exchanges]
    return float(prints * bench.minutes_per_print + sum(noted))


def prints_of_a_year(log: Snapshot, printer: str | None = None) -> Prints:
    """The prints that tell how many attempts a keeper takes, and how large prints are."""
    return log.prints(log.day - dt.timedelta(days=YEAR_DAYS - 1), log.day, printer=printer)


def black_of_papers(log: Snapshot) -> dict[str, Black]:
    """The black that each paper needs, by paper id."""
    return {paper.id: paper.black for paper in log.all(Paper)}


def attempts_of(basis: Basis) -> dict[Black, Attempts]:
    """The attempts of each black."""
    return {black: Attempts(counted.prints, counted.keepers) for black, counted in basis.attempts.items()}


def each_keeper(basis: Basis) -> PerBlackRate:
    """Prints for each keeper."""
    return PerBlackRate(**{black: attempts.each for black, attempts in attempts_of(basis).items()})


def terms_of(basis: Basis, *, begun: bool = True) -> Terms:
    """The plan's terms; ``begun``: what was done today is gone from its minutes.

    A printer with a slot for each black exchanges nothing: no cost, no minutes.
    """
    used = basis.used_today if begun else 0.0
    if not basis.shared_black_slot:
        return Terms(basis.minutes_per_day, 0.0, 0.0, 0.0, used)
    to_photo, to_matte = (basis.changeover_cost[way].value for way in DIRECTIONS)
    return Terms(basis.minutes_per_day, basis.changeover_minutes, to_matte, to_photo, used)


def flow_of(basis: Basis, at: str = "value") -> Flow | None:
    """What is ordered and what a bench day does with it, with changeovers' cost at ``value``, ``low`` or ``high``.

    None where the black is never exchanged, or nobody knows how many prints are ordered or what a changeover costs.
    """
    rates = basis.prints_per_bench_day
    if rates is None or not basis.shared_black_slot or "nothing" in basis.cost_from.values():
        return None
    to_photo, to_matte = (float(getattr(basis.changeover_cost[way], at)) for way in DIRECTIONS)
    whole, beside = basis.minutes_per_day, basis.minutes_per_day - basis.changeover_minutes
    each = attempts_of(basis)
    rooms = [tuple(_room(minutes, basis.minutes_per_print * each[black].each) for black in BLACKS) for minutes in (whole, beside)]
    (matte, photo), (matte_after, photo_after) = rooms
    return Flow(
        rates["matte"].value,
        rates["photo"].value,
        (matte, photo),
        (matte_after, photo_after),
        to_matte,
        to_photo,
        basis.waiting_cost,
    )


def _room(minutes: float, per_print: float) -> int:
    return max(0, int(minutes / per_print + 1e-9))


def days_ahead(log: Snapshot, basis: Basis) -> Iterator[dt.date]:
    """The bench days from the day on, without those away."""
    return bench_days(log.day, basis.weekdays, times_away(log))
