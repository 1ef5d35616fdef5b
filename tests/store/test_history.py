"""The history: searched, sorted and paged by the file, as going through everything by hand would."""

import re
from datetime import date

import pytest

from logbook.records import Paper, Picture, Print
from logbook.store import Store, history, reading


def words_of(text: str) -> list[str]:
    return re.findall(r"#?\w+", text.casefold().replace("_", " "))


@pytest.mark.parametrize(
    "typed", ["winter", "tide rag", "#0412", "412", "keep", "redo perc", "shadow lift 6", "compens off", "zzz", "  - "]
)
def test_a_search_finds_the_prints_that_hold_every_word(demo_store: Store, typed: str) -> None:
    papers = {paper.id: paper.name for paper in reading.every(demo_store, Paper)}
    pictures = {picture.id: picture.title for picture in reading.every(demo_store, Picture)}
    found = history.page(demo_store, typed, limit=100_000)
    assert history.count(demo_store, typed) == len(found)
    for line in found:
        one = reading.get(demo_store, Print, line.id)
        assert one is not None
        assert (line.title, line.paper_name) == (pictures[one.picture], papers[one.paper])
        assert (line.width_mm, line.settings, line.at) == (one.width_mm, one.settings, one.at)
    if typed in ("winter", "tide rag"):
        wanted = {
            one.id
            for one in reading.every(demo_store, Print)
            if all(
                any(held.startswith(word) for held in words_of(f"{pictures[one.picture]} {papers[one.paper]} {one.note or ''}"))
                for word in words_of(typed)
            )
        }
        assert wanted <= {line.id for line in found}
        assert wanted


@pytest.mark.parametrize("sort", ["logged", "time", "title", "paper", "verdict", "darkness"])
@pytest.mark.parametrize("descending", [True, False])
@pytest.mark.parametrize("words", ["", "keep"])
def test_pages_follow_one_another_in_the_sequence_asked_for(
    demo_store: Store, sort: history.Sort, descending: bool, words: str
) -> None:
    whole = history.page(demo_store, words, sort, descending=descending, limit=5_000)
    pages = [
        line
        for offset in range(0, 300, 70)
        for line in history.page(demo_store, words, sort, descending=descending, offset=offset, limit=70)
    ]
    assert pages == whole[:350]
    field = {
        "logged": "number",
        "time": "at",
        "title": "title",
        "paper": "paper_name",
        "verdict": "verdict",
        "darkness": "darkness",
    }[sort]
    values = [getattr(line, field) for line in whole if getattr(line, field) is not None]
    assert values == sorted(values, reverse=descending)


@pytest.mark.parametrize(
    "typed", ['"', "'", "*", "NEAR(", "a AND", "-x", "x:y", "((((", "\x00", "a" * 5_000, "é" * 300, '" OR 1=1 --']
)
def test_whatever_is_typed_is_words_never_a_query(demo_store: Store, typed: str) -> None:
    assert history.count(demo_store, typed) == len(history.page(demo_store, typed, limit=100_000))


def test_attempts_come_first_to_last_with_what_went_before(demo_store: Store) -> None:
    later = next(one for one in reversed(reading.every(demo_store, Print)) if one.attempt_of)
    chain = history.attempts(demo_store, later.id)
    assert [line.attempt for line in chain] == sorted(line.attempt for line in chain)
    assert chain[0].attempt == 1
    assert chain[0].before is None
    assert later.id in {line.id for line in chain}
    assert all(line.before is not None for line in chain[1:])


def test_the_prints_of_a_day_and_those_that_wait(demo_store: Store) -> None:
    today = history.of_days(demo_store, date(2026, 11, 25), date(2026, 11, 25))
    assert {line.at.date().isoformat() for line in today} == {"2026-11-25"}
    assert any(not line.judged for line in history.waiting(demo_store))
    assert not any(line.judged for line in history.waiting(demo_store))
