"""Every report asks the file each question once, and nothing again while nothing changed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable
from datetime import date
from pathlib import Path

import pytest

from logbook.reports.batch import answer as batch
from logbook.reports.bench import one_print, shelf, standing, today
from logbook.reports.darkness import answer as darkness
from logbook.reports.darkness import tone
from logbook.reports.ink import changeovers, readings
from logbook.reports.ink import review as ink_review
from logbook.reports.month import answer as month
from logbook.snapshot import Snapshot, take
from logbook.store import open_store

DAY = date(2026, 11, 25)
MOST: dict[str, tuple[int, Callable[[Snapshot], object]]] = {
    "standing": (14, standing.answer),
    "today": (20, today.answer),
    "shelf": (13, shelf.answer),
    "a print": (18, lambda log: one_print.answer(log, log.prints().id[-1])),
    "darkness": (13, darkness.answer),
    "tone": (15, lambda log: tone.tone(log, tone.Query(paper="tideway-rag"))),
    "changeovers": (14, changeovers.answer),
    "ink": (19, ink_review.review),
    "readings": (14, lambda log: readings.readings_behind(log, readings.Asked("all"))),
    "batch": (19, batch.answer),
    "verdict": (17, batch.batch_due),
    "month": (23, month.answer),
}


@pytest.mark.parametrize("name", MOST)
def test_a_report_asks_each_question_once(name: str, demo_path: Path) -> None:
    most, answer = MOST[name]
    with open_store(demo_path) as store:
        log = take(store, DAY)
        asked: list[str] = []
        store.connection.set_trace_callback(asked.append)
        answer(log)
        assert [statement for statement, times in Counter(asked).items() if times > 1] == []
        assert 0 < len(asked) <= most
        asked.clear()
        answer(log)
        assert asked == []


def test_what_one_report_asked_the_others_need_not_ask(demo_path: Path) -> None:
    with open_store(demo_path) as store:
        asked: list[str] = []
        store.connection.set_trace_callback(asked.append)
        log = take(store, DAY)
        at_one_moment = {"BEGIN", *asked, "COMMIT"}
        for _, answer in MOST.values():
            answer(log)
        asked = [statement for statement in asked if statement not in at_one_moment]
        assert [statement for statement, times in Counter(asked).items() if times > 1] == []
        assert len(asked) <= 50
