"""How the cost of what is done all day grows with the logbook: 1,000, 10,000 and 100,000 prints, in processor time."""

from __future__ import annotations

import statistics
import tempfile
import time
from collections.abc import Callable
from itertools import count
from pathlib import Path

from logbook.reports.batch import answer as batch
from logbook.reports.bench import shelf, today
from logbook.reports.darkness import answer as darkness
from logbook.reports.ink import review as ink_review
from logbook.reports.month import answer as month
from logbook.snapshot import take
from logbook.store import Store, columns, history, journal, open_store
from tests.bench.many import fill, last_day
from tests.bench.row import once
from tests.bench.test_store import a_print

SIZES = (1_000, 10_000, 100_000)
DAY = last_day()
# In this sequence: what is worked out first is there for what follows, as in the program.
ASKED: dict[str, Callable[[Store], object]] = {
    "Today": lambda store: today.answer(take(store, DAY)),
    "Prints, a page": lambda store: history.page(store, "", "logged", descending=True, offset=0, limit=100),
    "Prints, a search": lambda store: history.page(store, "winter redo", "logged", descending=True, offset=0, limit=100),
    "Shelf": lambda store: shelf.answer(take(store, DAY)),
    "reading every print's columns, once": columns.prints,
    "Tone": lambda store: darkness.answer(take(store)),
    "Ink": lambda store: ink_review.review(take(store, DAY)),
    "Batches": lambda store: batch.answer(take(store, DAY)),
    "Month": lambda store: month.answer(take(store, DAY)),
}


def table(sizes: tuple[int, ...] = SIZES) -> list[list[str]]:
    """A row for each operation: its name, and milliseconds for each size."""
    found: dict[str, list[float]] = {}
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            path = Path(folder) / f"{size}.db"
            fill(path, size)
            with open_store(path) as store:
                for name, work in ASKED.items():
                    found.setdefault(name, []).append(_first(store, work))
                found.setdefault("saving a print", []).append(_saving(store))
    return [[name, *(f"{1000 * one:,.1f}" if one < 0.01 else f"{1000 * one:,.0f}" for one in row)] for name, row in found.items()]


def _first(store: Store, work: Callable[[Store], object]) -> float:
    """What the first asking takes: an answer that is kept takes nothing. Modules are imported before."""
    with open_store(store.path) as other:
        work(other)
    return once(lambda: work(store), time.process_time)


def _saving(store: Store) -> float:
    numbers = count()
    return statistics.median(
        once(lambda: journal.write(store, "Print logged", save=[a_print(next(numbers))]), time.process_time) for _ in range(30)
    )


if __name__ == "__main__":
    for line in table():
        print(line)
