"""The small studio with orders, as the batch answer reads it."""

from __future__ import annotations

import datetime as dt
from typing import Any

from logbook.records import Bench, Order, PerBlack, Record
from logbook.reports.batch import answer as batch
from logbook.reports.batch.model import BatchAnswer
from logbook.snapshot import take
from logbook.store import Store, journal
from tests import studio

TODAY = dt.date(2026, 11, 25)
BENCH = Bench(
    id="bench",
    printer="printer",
    weekdays=(1, 2, 3, 4, 5),
    minutes_per_day=120,
    minutes_per_print=20,
    changeover_minutes=40,
    changeover_cost={"matte->photo": 30.0, "photo->matte": 28.0},
    prints_per_bench_day=PerBlack(matte=2.0, photo=1.0),
)


def order(name: str, prints: int = 2, promised: int | None = None, **more: Any) -> Order:
    """An order for matte black unless said otherwise, promised so many days after ``TODAY``."""
    day = None if promised is None else TODAY + dt.timedelta(days=promised)
    fields: dict[str, Any] = {"title": f"Order {name}", "prints": prints, "taken": TODAY - dt.timedelta(days=5), "promised": day}
    black = {} if "paper" in more else {"black": "matte"}
    return Order(id=name, **{**fields, **black, **more})


def logged(store: Store, *records: Record, bench: Bench | None = BENCH) -> None:
    """Furnish the studio and log what is given."""
    studio.furnish(store)
    journal.write(store, "orders", save=[*([bench] if bench else []), *records])


def answered(store: Store, **options: Any) -> BatchAnswer:
    """The answer of ``TODAY`` unless another day is given."""
    return batch.answer(take(store, options.pop("today", TODAY)), **options)
