"""Sheets that came out and are not in the log, as the queue and the printer's counter tell."""

from __future__ import annotations

from datetime import timedelta
from functools import partial
from typing import Any

import pytest

from logbook.actions import planned_test, queue
from logbook.link.jobs import State
from logbook.snapshot import sheet_counts as seen
from logbook.snapshot import take
from logbook.snapshot.clock import now
from logbook.snapshot.unlogged import Unlogged, unlogged
from logbook.store import Store
from tests.actions.test_queue import WIDE, job
from tests.studio import count_sheets, furnish, print_out, sheet

NOW = now().replace(hour=12, minute=0)
TODAY, MONDAY = NOW.date(), NOW - timedelta(days=4)


@pytest.fixture
def bench(store: Store) -> Store:
    furnish(store)
    print_out(store, sheet("first", at=NOW - timedelta(days=60)))
    return store


def asked(store: Store, *told: dict[str, Any]) -> Unlogged | None:
    queue.take(store, WIDE, [job(number, **{"at": MONDAY, **one}) for number, one in enumerate(told, 1)])
    return unlogged(store, TODAY)


def test_copies_that_wait_are_not_in_the_log_until_they_are_logged_or_were_none(bench: Store) -> None:
    assert asked(bench, {"copies": 2}, {"at": NOW}) == Unlogged(3, MONDAY.date())
    queue.confirm(bench, queue.waiting(bench)[0])
    assert unlogged(bench, TODAY) == Unlogged(1, TODAY)
    queue.pass_over(bench, queue.waiting(bench)[0])
    assert unlogged(bench, TODAY) is None


def test_sheets_of_a_planned_test_are_still_to_be_printed(bench: Store) -> None:
    planned_test.accept(bench, [{"intent": "relative"}, {"intent": "perceptual"}], [])
    assert len(queue.waiting(bench)) == 2 and unlogged(bench, TODAY) is None


def test_sheets_of_a_job_that_was_broken_off_count_until_as_many_are_logged_by_hand(bench: Store) -> None:
    told: list[dict[str, Any]] = [{"state": State.ABORTED, "sheets": 2}, {"state": State.CANCELLED, "sheets": 0}]
    assert asked(bench, *told) == asked(bench, *told) == Unlogged(2, MONDAY.date())
    print_out(bench, sheet("by hand", at=MONDAY))
    assert unlogged(bench, TODAY) == Unlogged(1, MONDAY.date())
    print_out(bench, sheet("another", at=MONDAY))
    assert unlogged(bench, TODAY) is None


def test_copies_of_several_sheets_count_the_sheets_beside_them(bench: Store) -> None:
    assert asked(bench, {"copies": 2, "sheets": 4}) == Unlogged(4, MONDAY.date())
    queue.confirm(bench, queue.waiting(bench)[0])
    assert unlogged(bench, TODAY) == Unlogged(2, MONDAY.date())


def test_the_printers_counter_counts_what_is_neither_logged_nor_said_to_be_none(bench: Store) -> None:
    for at, sheets in ((MONDAY, 100), (NOW, 106)):
        count_sheets(bench, at, sheets)
    assert unlogged(bench, TODAY) == Unlogged(6, MONDAY.date(), counted=True)
    print_out(bench, sheet("one", at=MONDAY + timedelta(hours=2)), sheet("earlier", at=MONDAY - timedelta(hours=2)))
    queue.take(bench, WIDE, [job(1, at=MONDAY + timedelta(hours=3)), job(2, at=MONDAY + timedelta(hours=4))])
    queue.pass_over(bench, queue.waiting(bench)[0])
    assert unlogged(bench, TODAY) == Unlogged(4, MONDAY.date(), counted=True)


def test_a_count_is_kept_when_it_moves_and_one_that_falls_begins_anew(bench: Store) -> None:
    told = [(MONDAY + timedelta(hours=hours), sheets) for hours, sheets in enumerate((100, 100, 103, 103))]
    for at, sheets in told:
        count_sheets(bench, at, sheets)
    kept = partial(seen.sheet_counts, printer="printer")
    assert kept(take(bench, NOW.date())) == [told[0], told[2]]
    count_sheets(bench, NOW, 7)
    assert kept(take(bench, NOW.date())) == [(NOW, 7)]


def test_what_was_said_to_be_no_prints_is_not_told_again(bench: Store) -> None:
    count_sheets(bench, MONDAY, 100)
    count_sheets(bench, now() - timedelta(minutes=2), 103)
    asked(bench, {"state": State.ABORTED, "sheets": 2})
    assert unlogged(bench) is not None
    queue.settle_sheets(bench, now())
    assert unlogged(bench) is None
    count_sheets(bench, now() + timedelta(minutes=2), 104)
    again = unlogged(bench)
    assert again is not None and again.sheets == 1


def test_what_is_long_past_is_not_told(bench: Store) -> None:
    old = NOW - timedelta(days=30)
    assert asked(bench, {"state": State.ABORTED, "sheets": 2, "at": old}) is None
