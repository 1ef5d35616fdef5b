"""Finished jobs become prints: what a queue says wins, what it does not say comes from before, and its words are learnt."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from logbook.actions import judging, planned_test, queue
from logbook.actions.log_print import form_of
from logbook.actions.merging import bring_in, other_logbook
from logbook.link.address import parse_address
from logbook.link.jobs import Job, State
from logbook.records import Judgement, Picture, Print
from logbook.records.refusal import Refusal
from logbook.store import Store, journal, merging, open_store, reading
from logbook.store.backup import back_up
from tests.studio import MORNING, SETTINGS, furnish, print_out, sheet

WIDE = parse_address("ipp://localhost/printers/wide")


@pytest.fixture
def bench(store: Store) -> Store:
    """The small studio with one print."""
    furnish(store)
    print_out(store, sheet("first"))
    return store


def job(number: int = 1, **told: Any) -> Job:
    """A finished job of the first picture, an hour later for each number."""
    fields: dict[str, Any] = {"key": f"urn:uuid:{number}", "name": "Ebb at Low Stair 30x40.tif", "state": State.COMPLETED}
    return Job(**{**fields, "number": number, "at": MORNING + timedelta(hours=number), **told})


def taken(store: Store, *jobs: Job) -> tuple[queue.Waiting, ...]:
    queue.take(store, WIDE, jobs)
    return queue.waiting(store)


def prints(store: Store) -> list[Print]:
    return reading.every(store, Print)


def test_a_job_is_confirmed_as_it_stands(bench: Store) -> None:
    (waits,) = taken(bench, job(settings={"resolution_dpi": 1000.0, "intent": "perceptual"}, options={"edge": "wide"}))
    queue.confirm(bench, waits)
    logged = prints(bench)[-1]
    before = sheet("first")
    assert (logged.picture, logged.paper, logged.at) == ("ebb", "rag", MORNING + timedelta(hours=1))
    assert (logged.width_mm, logged.height_mm, logged.border_mm) == (before.width_mm, before.height_mm, before.border_mm)
    assert logged.settings == {**SETTINGS, "resolution_dpi": 1000.0, "intent": "perceptual", "edge": "wide"}
    assert queue.waiting(bench) == ()


def test_every_copy_is_a_print_and_an_edition_goes_on(bench: Store) -> None:
    print_out(bench, sheet("numbered", hours=0.5, edition_number=3, edition_size=5))
    (waits,) = taken(bench, job(copies=4))
    queue.confirm(bench, waits)
    assert [one.edition_number for one in prints(bench)[-4:]] == [4, 5, None, None]
    assert len({one.job for one in prints(bench)[-4:]}) == 4
    assert all((one.job or "").startswith("wide 1, ") for one in prints(bench)[-4:])


def test_a_job_is_never_taken_twice(bench: Store) -> None:
    told = [job(1), job(2, key="2 of 2026-11-25T10:00:00Z")]
    assert queue.take(bench, WIDE, told).new == 2
    assert queue.take(bench, WIDE, told) == queue.Taken(new=0, known=2, broken_off=())
    queue.confirm(bench, queue.waiting(bench)[0])
    assert queue.take(bench, WIDE, told).new == 0
    assert len(queue.waiting(bench)) == 1


def test_a_queue_that_counts_anew_and_another_queue_are_told_apart(bench: Store) -> None:
    first = job(1, key="1 of 2026-11-25T09:00:00Z")
    again = job(1, key="1 of 2026-11-26T09:00:00Z", at=MORNING + timedelta(days=1))
    assert queue.take(bench, WIDE, [first, again]).new == 2
    assert queue.take(bench, parse_address("ipp://localhost/printers/narrow"), [first]).new == 1


def test_a_confirmed_job_that_is_undone_waits_again(bench: Store) -> None:
    (waits,) = taken(bench, job(copies=2))
    queue.confirm(bench, waits)
    assert queue.waiting(bench) == ()
    journal.undo(bench)
    assert [one.number for one in queue.waiting(bench)] == [2]
    journal.redo(bench)
    assert queue.waiting(bench) == ()


def test_a_job_printed_on_another_machines_logbook_is_known_after_a_merge(bench: Store) -> None:
    (waits,) = taken(bench, job())
    theirs = sheet("theirs", job=waits.copies[0].job)
    print_out(bench, theirs)
    assert queue.waiting(bench) == ()
    assert queue.take(bench, WIDE, [job()]).new == 0


def test_a_job_with_a_uuid_is_known_by_whatever_name_its_queue_is_asked(bench: Store) -> None:
    assert queue.take(bench, WIDE, [job(1)]).new == 1
    other = parse_address("ipp://192.0.2.7/ipp/print")
    assert queue.take(bench, other, [job(1)]) == queue.Taken(new=0, known=1, broken_off=())
    queue.confirm(bench, queue.waiting(bench)[0])
    assert queue.take(bench, other, [job(1)]).new == 0


def test_a_job_confirmed_in_two_logbooks_is_one_print_once_they_are_merged(bench: Store, tmp_path: Path) -> None:
    back_up(bench, tmp_path / "laptop.db")
    with open_store(tmp_path / "laptop.db") as laptop:
        for store in (bench, laptop):
            (waits,) = taken(store, job(copies=2))
            queue.confirm(store, waits)
        (waits,) = taken(laptop, job(2))
        queue.confirm(laptop, waits)
    queue.take(bench, WIDE, [job(2)])
    with other_logbook(bench, tmp_path / "laptop.db") as other:
        bring_in(bench, other, merging.plan(bench, other, None), "laptop.db")
    assert len(prints(bench)) == 4  # the first of all, two copies of the one job, and the other
    assert queue.waiting(bench) == ()


def test_each_sheet_of_a_planned_test_is_judged_by_itself(bench: Store) -> None:
    planned_test.accept(bench, [{"intent": "relative"}, {"intent": "perceptual"}], [])
    for sheet_waiting in queue.waiting(bench):
        queue.confirm(bench, sheet_waiting)
    assert len(judging.judgement_ahead(bench).same_job) == 1


def test_what_is_confirmed_again_after_an_undo_bears_its_number_again(bench: Store) -> None:
    (waits,) = taken(bench, job())
    queue.confirm(bench, waits)
    number = prints(bench)[-1].number
    journal.undo(bench)
    queue.confirm(bench, queue.waiting(bench)[0])
    assert prints(bench)[-1].number == number


@pytest.mark.parametrize("name", ["/home/ann/prints/Ebb at Low Stair.tif", "file:///prints/Ebb%20at%20Low%20Stair.tif"])
def test_a_path_is_never_a_title(bench: Store, name: str) -> None:
    (waits,) = taken(bench, job(name=name))
    assert (waits.title, waits.form.picture) == ("Ebb at Low Stair", "ebb")


def test_jobs_broken_off_make_no_print_and_are_told(bench: Store) -> None:
    told = queue.take(bench, WIDE, [job(1, state=State.CANCELLED), job(2, state=State.ABORTED)])
    assert (told.new, [one.number for one in told.broken_off]) == (0, [1, 2])
    assert queue.waiting(bench) == ()


def test_what_was_no_print_is_passed_over_and_can_come_back(bench: Store) -> None:
    (waits,) = taken(bench, job(name="Test page"))
    queue.pass_over(bench, waits)
    assert queue.waiting(bench) == () and queue.take(bench, WIDE, [job(name="Test page")]).new == 0
    assert queue.bring_back(bench) == 1
    assert [one.title for one in queue.waiting(bench)] == ["Test page"]


def test_a_new_picture_is_made_with_its_print(bench: Store) -> None:
    (waits,) = taken(bench, job(name="signal_mast_24x30cm.tif", sheet_mm=(240.0, 300.0)))
    assert [one.title for one in waits.new if isinstance(one, Picture)] == ["signal mast"]
    queue.confirm(bench, waits)
    logged = prints(bench)[-1]
    assert (logged.width_mm, logged.height_mm) == (210, 270)  # the sheet without the usual borders of 15 mm
    assert reading.every(bench, Picture)[-1].title == "signal mast"


@pytest.mark.parametrize(
    ("sheet_mm", "image"),
    [((330.0, 430.0), (300, 400)), ((430.0, 330.0), (300, 400)), ((331.0, 429.5), (300, 400)), ((530.0, 430.0), (400, 500))],
)
def test_the_sheet_gives_the_image_lying_as_it_lay(
    bench: Store, sheet_mm: tuple[float, float], image: tuple[float, float]
) -> None:
    (waits,) = taken(bench, job(sheet_mm=sheet_mm))
    assert (waits.form.width_mm, waits.form.height_mm) == image


def test_the_name_of_a_medium_is_learnt(bench: Store) -> None:
    glossy: dict[str, Any] = {"paper": "baryta", "stock": "glossy-roll", "picture": "groyne"}
    print_out(bench, sheet("glossy", hours=0.2, **glossy), sheet("matte again", hours=0.3, picture="groyne"))
    (waits,) = taken(bench, job(1, name="Winter Groyne", media="photographic-glossy"))
    assert waits.form.paper == "rag"
    queue.confirm(bench, waits, form_of(sheet("x", **glossy)))
    (waits,) = taken(bench, job(2, name="Winter Groyne", media="photographic-glossy"))
    assert waits.form.paper == "baryta"


def test_the_option_that_names_the_black_is_learnt_once_both_were_seen(bench: Store) -> None:
    glossy: dict[str, Any] = {"paper": "baryta", "stock": "glossy-roll", "picture": "groyne"}
    print_out(bench, sheet("glossy", hours=0.2, **glossy))
    for number, name, black in ((1, "Ebb at Low Stair", "mk"), (2, "Winter Groyne", "pk")):
        (waits,) = taken(bench, job(number, name=name, options={"black-in": black, "tray": "rear"}))
        assert waits.form.settings["black-in"] == black
        queue.confirm(bench, waits)
    (waits,) = taken(bench, job(3, options={"black-in": "pk", "tray": "rear"}))
    assert waits.form.paper == "baryta"
    assert waits.form.settings.get("tray") == "rear" and "black-in" not in waits.form.settings


def test_a_strip_and_a_strangers_order_do_not_carry_over(bench: Store) -> None:
    print_out(bench, sheet("strip", hours=0.5, purpose="strip"))
    (waits,) = taken(bench, job())
    assert waits.form.purpose == "final"


def test_a_job_is_confirmed_and_its_copies_judged_at_once(bench: Store) -> None:
    (waits,) = taken(bench, job(copies=3))
    queue.confirm_and_judge(bench, waits, [1, 3], verdict="keep", darkness=-1)
    logged = prints(bench)[-3:]
    assert [one.print for one in reading.every(bench, Judgement)] == [logged[0].id, logged[2].id]
    assert queue.waiting(bench) == ()
    with pytest.raises(Refusal):
        queue.confirm_and_judge(bench, taken(bench, job(2))[0], [1])
    assert (len(queue.waiting(bench)), len(prints(bench))) == (1, 4)  # nothing was judged, and nothing logged


def test_what_is_still_missing_is_said(store: Store) -> None:
    (waits,) = taken(store, job())
    with pytest.raises(Refusal):
        queue.confirm(store, waits)
    assert len(queue.waiting(store)) == 1 and prints(store) == []


def test_a_thousand_jobs_wait(bench: Store) -> None:
    told = [job(number, at=MORNING + timedelta(minutes=number)) for number in range(1, 1_001)]
    assert queue.take(bench, WIDE, told).new == 1_000
    assert queue.take(bench, WIDE, told).known == 1_000
