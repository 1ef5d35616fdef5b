"""What was advised, done and came out; the reference print; and what Month says of both."""

from __future__ import annotations

from datetime import timedelta

import pytest

from logbook.actions import foretelling
from logbook.analysis.numeric.interval import Interval
from logbook.records import Judgement, Print, Record
from logbook.reports.darkness.kept import kept, kept_sentence, own_score, score_sentence
from logbook.reports.darkness.reference import reference
from logbook.reports.month import answer as month
from logbook.reports.month.written.text import as_text
from logbook.snapshot import take
from logbook.store import Store, journal, reading
from tests.studio import MORNING, furnish, sheet


@pytest.fixture
def bench(store: Store) -> Store:
    """Four prints: two set as advised, one otherwise, one without advice; the last waits."""
    furnish(store)
    done = (0.5, 0.3, 0.0, 0.2)
    prints = [sheet(f"p{n}", hours=n, settings={"brighten_stops": value}) for n, value in enumerate(done)]
    journal.write(store, "logged", save=list(prints))
    told: tuple[tuple[float | None, float], ...] = ((0.52, -1), (0.3, 0), (0.4, -2), (None, 0))
    for one, (advised, thirds) in zip(prints, told, strict=True):
        foretelling.keep(store, one, Interval(0.0, -0.4, 0.4), advised)
        if one.id != "p3":
            seen = Judgement(id=f"j{one.id}", print=one.id, at=one.at, darkness=int(thirds), verdict="keep")
            journal.write(store, "judged", save=[seen])
    return store


def test_the_score_tells_what_was_held_and_how_far_off_both_ways_came_out(bench: Store) -> None:
    found = kept(take(bench))
    assert [(one.id, one.followed) for one in found] == [("p3", False), ("p2", False), ("p1", True), ("p0", True)]
    score = own_score(found)
    assert score is not None
    assert (score.prints, score.held, score.as_advised, score.otherwise) == (3, 2, 2, 1)
    assert score.as_advised_stops == pytest.approx(1 / 6)
    assert score.otherwise_stops == pytest.approx(2 / 3)
    assert score_sentence(score).startswith("Of 3 prints foretold as they were logged 2 came out where nine in ten should")
    assert "advised +0.40, set 0.00" in kept_sentence(found[1])
    assert "nothing advised" in kept_sentence(found[0]) and "not judged yet" in kept_sentence(found[0])


def test_a_print_that_was_taken_back_is_no_part_of_the_score(bench: Store) -> None:
    journal.write(bench, "away", delete=[print_of(bench, "p3")])
    assert [one.id for one in kept(take(bench))] == ["p2", "p1", "p0"]
    assert own_score(()) is None


def print_of(store: Store, id: str) -> Print:
    found = reading.get(store, Print, id)
    assert found is not None
    return found


def test_month_says_the_score_of_its_own_prints_in_a_line(bench: Store) -> None:
    told = month.answer(take(bench, MORNING.date()))
    assert told.foretold == own_score(kept(take(bench)))
    assert "foretold as they were logged" in " ".join(as_text(told).split())
    assert month.answer(take(bench, MORNING.date() + timedelta(days=62))).foretold is None


def test_the_reference_is_the_print_judged_on_most_days_months_apart(bench: Store) -> None:
    newest = reference(take(bench))
    assert newest is not None and (newest.print, newest.begun) == ("p2", False)
    looks: list[Record] = [
        Judgement(id=f"again {n}", print="p0", at=MORNING + timedelta(days=30 * n), darkness=-1, light="wall") for n in (1, 2)
    ]
    journal.write(bench, "looked at again", save=looks)
    found = reference(take(bench))
    assert found is not None
    assert (found.print, found.last, found.days, found.begun) == ("p0", (MORNING + timedelta(days=60)).date(), 3, True)


def test_month_reminds_of_the_reference_print(bench: Store) -> None:
    many: list[Record] = [sheet(f"q{n}", hours=24 + n) for n in range(50)]
    journal.write(bench, "many", save=many)
    day = MORNING.date() + timedelta(days=20)

    def told() -> list[str]:
        return [one.text for one in month.answer(take(bench, day)).reminders if one.kind == "reference"]

    assert [("V in Tone begins with #0003" in one) for one in told()] == [True]
    old = [Judgement(id=f"old {n}", print="p0", at=MORNING - timedelta(days=n), darkness=0) for n in (40, 80)]
    journal.write(bench, "old looks", save=list(old))
    assert told() == []
