"""The sheets of a planned test wait to be printed, each is logged as it stands, and what they taught is told."""

from __future__ import annotations

from datetime import timedelta

import pytest

from logbook.actions import planned_test, queue
from logbook.records import Judgement, Print, Record
from logbook.records.refusal import Refused
from logbook.reports.darkness import answer as darkness
from logbook.reports.darkness.text import as_text
from logbook.snapshot import take
from logbook.snapshot.planned import ToLearn
from logbook.store import Store, journal, reading
from tests.studio import MORNING, furnish, print_out, sheet

SHEETS = [{"intent": intent, "resolution_dpi": dpi} for intent in ("relative", "perceptual") for dpi in (720.0, 1440.0)]
WANTED = [ToLearn(setting="intent", level="perceptual", against="relative", width_stops=0.9)]


@pytest.fixture
def bench(store: Store) -> Store:
    furnish(store)
    return store


def test_each_sheet_waits_and_is_logged_with_its_settings_when_it_is_printed(bench: Store) -> None:
    print_out(bench, sheet("p1", order=None))
    assert planned_test.accept(bench, SHEETS, WANTED) == 4
    waiting = queue.waiting(bench)
    assert [one.form.settings["intent"] for one in waiting] == ["relative", "relative", "perceptual", "perceptual"]
    assert waiting[0].told == "intent relative"
    queue.confirm(bench, waiting[2])
    made = max(reading.every(bench, Print), key=lambda one: one.at)
    assert (made.picture, made.paper, made.purpose, made.width_mm) == ("ebb", "rag", "work", 300.0)
    assert (made.settings["intent"], made.settings["resolution_dpi"], made.settings["shadow_lift"]) == ("perceptual", 720.0, 6)
    assert made.at > MORNING + timedelta(days=1)  # when it was logged, not when the sheet was planned
    assert [one.form.settings for one in queue.waiting(bench)] == [waiting[at].form.settings for at in (0, 1, 3)]


def test_a_sheet_left_out_comes_back_and_undo_lets_one_wait_again(bench: Store) -> None:
    print_out(bench, sheet("p1"))
    planned_test.accept(bench, SHEETS, WANTED)
    queue.pass_over(bench, queue.waiting(bench)[0])
    assert len(queue.waiting(bench)) == 3
    assert queue.bring_back(bench) == 1
    queue.confirm(bench, queue.waiting(bench)[0])
    journal.undo(bench)
    assert len(queue.waiting(bench)) == 4


def test_without_a_print_there_is_no_picture_for_it(bench: Store) -> None:
    with pytest.raises(Refused, match="nothing is printed"):
        planned_test.accept(bench, SHEETS, WANTED)
    assert queue.waiting(bench) == ()


def test_what_a_test_taught_is_told_once_its_sheets_are_judged(bench: Store) -> None:
    seen: list[Record] = []
    for n in range(24):
        settings = {"intent": "perceptual" if n % 2 else "relative", "resolution_dpi": 720.0}
        seen.append(sheet(f"p{n}", hours=n / 10, settings=settings))
        seen.append(Judgement(id=f"j{n}", print=f"p{n}", at=MORNING + timedelta(hours=5), darkness=-(n % 3), verdict="keep"))
    journal.write(bench, "judged", save=seen)
    planned_test.accept(bench, SHEETS, WANTED)
    assert [(one.sheets, one.judged) for one in darkness.answer(take(bench)).tests] == [(4, 0)]
    for one in queue.waiting(bench)[1:]:
        queue.confirm(bench, one)
    new = [one for one in reading.every(bench, Print) if one.job is not None]
    journal.write(
        bench, "seen", save=[Judgement(id=f"t{one.id}", print=one.id, at=one.at, darkness=-1, verdict="keep") for one in new]
    )
    answer = darkness.answer(take(bench))
    [test] = answer.tests
    [learnt] = test.learnt
    assert (test.sheets, test.judged) == (4, 3)
    assert (learnt.level, learnt.against, learnt.width_before) == ("perceptual", "relative", 0.9)
    [contrast] = [one for one in answer.contrasts if one.setting == "intent"]
    assert learnt.now.width == pytest.approx(contrast.stops.width)
    assert abs(learnt.now.value) == pytest.approx(abs(contrast.stops.value))
    assert "3 of 4 sheets are judged. Intent perceptual instead of relative was known to ±0.45" in " ".join(
        as_text(answer).split()
    )
