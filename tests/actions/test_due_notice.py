"""That a batch is due is said once a day."""

from __future__ import annotations

import datetime as dt

from logbook.actions import due_notice
from logbook.store import Store

TODAY = dt.date(2026, 11, 25)
TOMORROW = dt.date(2026, 11, 26)


def test_it_is_said_once_on_a_day_and_again_on_the_next(store: Store) -> None:
    said = [due_notice.first_said(store, "photo", day) for day in (TODAY, TODAY, TOMORROW, TOMORROW)]
    assert said == [True, False, True, False]


def test_the_other_black_is_another_matter(store: Store) -> None:
    assert due_notice.first_said(store, "photo", TODAY)
    assert due_notice.first_said(store, "matte", TODAY)
