"""What Tone reads: the raw ratings of the levels, their prints, and the marks of the trend."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator
from pathlib import Path

import pytest

from logbook.records import Cartridge, Screen
from logbook.reports.darkness.tone import CALIBRATED, INSTALLED, Query, Tone, key_of, prints_at, tone
from logbook.snapshot import take
from logbook.store import Store, open_store, reading


@pytest.fixture(scope="module")
def demo(demo_path: Path) -> Iterator[Store]:
    with open_store(demo_path) as store:
        yield store


@pytest.fixture(scope="module")
def seen(demo: Store) -> Tone:
    return tone(take(demo), Query())


def test_raw_ratings_and_prints_agree_with_the_counts(demo: Store, seen: Tone) -> None:
    for one in seen.answer.settings:
        ratings = seen.ratings[key_of(one.setting, one.level)]
        assert sum(ratings) == one.prints
        assert sum(ratings[:6]) == one.darker
    for one in seen.answer.settings[:4]:
        assert len(prints_at(take(demo), seen.query, one.setting, one.level)) == one.prints


def test_true_and_one_are_different_levels() -> None:
    assert key_of("a", True) != key_of("a", 1)


def test_the_prints_of_a_level_come_newest_first(demo: Store, seen: Tone) -> None:
    one = seen.answer.settings[0]
    number = reading.numbers(demo)
    found = [number[id] for id in prints_at(take(demo), seen.query, one.setting, one.level)]
    assert found == sorted(found, reverse=True)


def test_papers_are_named_most_used_first(seen: Tone) -> None:
    counts = {one.level: one.prints for one in seen.answer.settings if one.setting == "paper"}
    assert [counts[paper] for paper in seen.papers] == sorted(counts.values(), reverse=True)


def test_calibrations_and_cartridges_are_marked_in_time_order(demo: Store, seen: Tone) -> None:
    days = [mark.day for mark in seen.marks]
    assert days == sorted(days)
    calibrated = {mark.day for mark in seen.marks if mark.sign == CALIBRATED}
    assert calibrated == {one.calibrated.date() for one in reading.every(demo, Screen) if one.calibrated}
    installed = [mark for mark in seen.marks if mark.sign == INSTALLED]
    assert 0 < len(installed) <= reading.count(demo, Cartridge)


def test_the_trend_holds_every_print_of_the_period(demo: Store, seen: Tone) -> None:
    assert sum(point.prints for point in seen.points) == seen.answer.prints_judged
    late = tone(take(demo), Query(since=dt.date(2026, 10, 1)))
    assert sum(point.prints for point in late.points) == late.answer.prints_judged < seen.answer.prints_judged


def test_an_empty_logbook_has_nothing_to_draw(store: Store) -> None:
    empty = tone(take(store), Query())
    assert (empty.points, empty.marks, empty.ratings, empty.papers) == ((), (), {}, ())
