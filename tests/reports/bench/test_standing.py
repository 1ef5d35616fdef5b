"""How the printer stands, from an empty logbook to one with orders."""

from __future__ import annotations

from datetime import date

import pytest

from logbook.actions.levels import read_levels
from logbook.records import Order
from logbook.reports.bench import standing
from logbook.snapshot import take
from logbook.snapshot.orders import Waiting
from logbook.store import Store, journal
from tests.studio import LEVELS, MORNING, furnish, print_out, sheet

TODAY = date(2026, 11, 25)


def test_an_empty_logbook_stands_nowhere(store: Store) -> None:
    empty = standing.answer(take(store, TODAY))
    assert empty == standing.Standing()
    assert standing.with_batch(empty, take(store, TODAY)).batch is None


def test_black_lowest_ink_roll_and_waiting_prints(store: Store) -> None:
    furnish(store)
    read_levels(store, "printer", LEVELS, MORNING)
    print_out(store, sheet("first", hours=1))
    orders = [
        Order(id="a", title="Ebb", prints=4, taken=TODAY, paper="rag"),
        Order(id="b", title="Groyne", prints=7, taken=TODAY, black="photo"),
        Order(id="c", title="long done", prints=9, taken=TODAY, black="photo", done=TODAY),
    ]
    journal.write(store, "orders", save=orders)
    now = standing.answer(take(store, TODAY))
    assert (now.loaded, now.printer, now.lowest_ink, now.lowest_percent) == ("matte", "bench one", "grey", 30)
    assert now.waiting == Waiting(matte=4, photo=7)
    # 30×40 cm with 15 mm borders lies 43 cm across the 43.2 cm roll and takes 33 cm of its 3 m.
    assert now.roll_left_mm == pytest.approx(3000 - 330)


def test_the_verdict_is_the_batch_answer_s(store: Store) -> None:
    from logbook.reports.batch import answer as batch

    furnish(store)
    now = standing.with_batch(standing.answer(take(store, TODAY)), take(store, TODAY))
    assert now.batch == batch.batch_due(take(store, TODAY)) is not None
