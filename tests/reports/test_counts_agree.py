"""The same prints are counted alike in every place: on the demonstration, against its records counted one by one."""

from __future__ import annotations

import datetime as dt
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

import pytest

from logbook.records import Judgement, Print
from logbook.reports.bench import today
from logbook.reports.darkness import answer as darkness
from logbook.reports.month.answer import answer as month
from logbook.reports.month.answer import prints_of
from logbook.reports.month.written.words import sentences
from logbook.snapshot import Snapshot, take
from logbook.store import Store, history, open_store
from tests.conftest import DEMO_TODAY as DAY


@pytest.fixture(scope="module")
def store(demo_path: Path) -> Iterator[Store]:
    with open_store(demo_path) as opened:
        yield opened


@pytest.fixture(scope="module")
def log(store: Store) -> Snapshot:
    return take(store, DAY)


class Counted:
    """The log's prints, counted from the records alone."""

    def __init__(self, log: Snapshot) -> None:
        self.prints = [one for one in log.all(Print) if one.at.date() <= DAY]
        self.strips = [one for one in self.prints if one.purpose == "strip"]
        self.others = [one for one in self.prints if one.purpose != "strip"]
        judgements = sorted(log.all(Judgement), key=lambda one: one.at)
        self.judged = {one.print for one in judgements}
        self.verdict = {one.print: one.verdict for one in judgements if one.verdict is not None}
        self.darkness = {one.print for one in judgements if one.darkness is not None}

    def of(self, year: int, number: int) -> Counter[str]:
        made = [one for one in self.prints if (one.at.year, one.at.month) == (year, number)]
        return Counter("strip" if one.purpose == "strip" else self.verdict.get(one.id, "waits") for one in made)


@pytest.fixture(scope="module")
def counted(log: Snapshot) -> Counted:
    return Counted(log)


def test_every_month_holds_its_keepers_failures_strips_and_what_waits(log: Snapshot, counted: Counted) -> None:
    told = month(log)
    assert sum(row.prints for row in (*told.before, told)) <= len(counted.prints)
    for row in (*told.before, told):
        by_hand = counted.of(*map(int, row.month.split("-")))
        assert (row.keepers, row.redo, row.scrap, row.strips) == tuple(by_hand[one] for one in ("keep", "redo", "scrap", "strip"))
        assert row.prints == by_hand.total()
        assert row.prints - row.strips - row.judged == by_hand["waits"]
        assert len(prints_of(log, row.month)) == row.prints
    assert told.strips and any(row.strips for row in told.before), "the demonstration holds strips, or this tells nothing"


def test_the_papers_and_pictures_of_a_month_add_up_to_it(log: Snapshot) -> None:
    told = month(log)
    for parts in (told.papers, told.pictures):
        assert (sum(one.prints for one in parts), sum(one.keepers for one in parts)) == (told.prints, told.keepers)


def test_a_month_says_the_counts_that_its_table_shows(log: Snapshot, counted: Counted) -> None:
    by_hand = counted.of(DAY.year, DAY.month)
    said = sentences(month(log))[0]
    assert said.startswith(f"{by_hand['keep']} of {by_hand['keep'] + by_hand['redo'] + by_hand['scrap']} prints with a verdict")
    assert f"{by_hand['waits']} wait for one" in said or f"{by_hand['waits']} waits for one" in said or not by_hand["waits"]
    assert f"{by_hand['strip']} test strip" in said


def test_today_and_the_history_count_the_same_prints_as_waiting(log: Snapshot, counted: Counted, store: Store) -> None:
    by_hand = [one for one in counted.others if one.id not in counted.judged]
    assert today.answer(log).waiting == len(by_hand)
    assert {line.id for line in history.waiting(store, 1_000) if line.purpose != "strip"} == {one.id for one in by_hand}
    assert history.count(store) == len(counted.prints)


def test_tone_counts_the_prints_with_a_darkness_and_no_strip(log: Snapshot, counted: Counted) -> None:
    told = darkness.answer(log)
    assert told.prints_judged == sum(one.id in counted.darkness for one in counted.others)
    papers = [one for one in told.settings if one.setting == "paper"]
    assert sum(one.prints for one in papers) == told.prints_judged


def test_what_is_to_be_done_counts_the_three_months_alike(log: Snapshot, counted: Counted) -> None:
    since = DAY - dt.timedelta(days=92)
    waiting = [one for one in counted.others if one.at.date() > since and one.id not in counted.verdict]
    (reminder,) = [one for one in month(log).reminders if one.kind == "judgement"]
    assert reminder.text.startswith(f"judge {len(waiting)} print")
