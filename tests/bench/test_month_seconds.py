"""Seconds that the month takes on ten years of a studio: the demonstration's 18 months, one after the other.

Run on demand: ``pytest tests/bench/test_month_seconds.py -s``.
"""

from __future__ import annotations

import datetime as dt
import time
from pathlib import Path
from typing import Any

import msgspec
import pytest

import demo_db
from logbook.records import Bench, Paper, Picture, Print, Printer, Record, Screen, kind_of
from logbook.reports.month.answer import answer
from logbook.reports.month.written.html import as_html
from logbook.snapshot import take
from logbook.store import Store, journal, open_store, reading

TODAY = dt.date(2026, 11, 25)
SHARED = (Printer, Paper, Picture, Screen, Bench)
SPAN = dt.timedelta(days=550)
PRINTS = 15_000
REFERENCES = ("print", "stock", "order", "attempt_of", "before", "after")


@pytest.fixture
def ten_years(tmp_path: Path) -> Store:
    store = open_store(tmp_path / "ten-years.db")
    told = demo_db.records(TODAY)
    prints = sum(isinstance(record, Print) for record in told)
    shared = [record for record in told if isinstance(record, SHARED) or kind_of(record) == "light"]
    journal.write(store, "shared", save=shared)
    rest = [record for record in told if record not in shared]
    for back in range(-(-PRINTS // prints), -1, -1):
        journal.write(store, f"{back} back", save=[earlier(record, back) for record in rest])
    return store


def earlier(record: Record, back: int) -> Record:
    """The record ``back`` spans earlier, under an id of its own."""
    changes: dict[str, Any] = {"id": f"{record.id}-{back}"}
    for name in record.__struct_fields__:
        value = getattr(record, name)
        if isinstance(value, dt.date):
            changes[name] = value - back * SPAN
        elif name in REFERENCES and isinstance(value, str):
            changes[name] = f"{value}-{back}"
    return msgspec.structs.replace(record, **changes)


def test_the_month_on_ten_years(ten_years: Store) -> None:
    with ten_years as store:
        prints = reading.count(store, Print)
        seconds = []
        for month in ("2026-11", "2026-10", "2019-03"):
            began = time.perf_counter()
            told = answer(take(store, TODAY), month=month)
            seconds.append(time.perf_counter() - began)
            assert told.prints > 0
        began = time.perf_counter()
        page = as_html(told)
        drawn = time.perf_counter() - began
        print(f"\n{prints} prints: first {seconds[0]:.2f} s, then {seconds[1]:.2f} and {seconds[2]:.2f} s; page {drawn:.3f} s")
        assert prints >= PRINTS
        assert len(page) > 10_000
        assert max(seconds) < 20
