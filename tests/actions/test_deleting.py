"""Deleting a print takes its judgements with it, a judgement meant for another print goes alone; undo brings both back."""

from __future__ import annotations

from datetime import timedelta

import pytest

from logbook.actions import deleting, judging
from logbook.records import Judgement, Order, Print
from logbook.records.refusal import Refused
from logbook.store import Store, journal, reading
from tests.studio import MORNING, furnish, only, print_out, sheet


def test_a_print_goes_with_its_judgements_and_comes_back_with_them(store: Store) -> None:
    furnish(store)
    print_out(store, sheet("first"))
    judging.judge(store, "first", verdict="keep", at=MORNING)
    judging.judge(store, "first", darkness=-1, at=MORNING)
    before = reading.every(store, Print), reading.every(store, Judgement)
    entry = deleting.delete_print(store, "first")
    assert entry.said == "Print #0001 Ebb at Low Stair with its 2 judgements deleted"
    assert (reading.count(store, Print), reading.count(store, Judgement)) == (0, 0)
    journal.undo(store)
    assert (reading.every(store, Print), reading.every(store, Judgement)) == before
    assert reading.number_of(store, "first") == 1


def test_a_print_that_attempts_follow_stays(store: Store) -> None:
    furnish(store)
    print_out(store, sheet("first"), sheet("second", hours=1, attempt_of="first"))
    with pytest.raises(Refused, match="one print is an attempt after this one; it was not deleted"):
        deleting.delete_print(store, "first")


def test_a_judgement_meant_for_another_print_is_deleted_and_the_others_stay(store: Store) -> None:
    furnish(store)
    print_out(store, sheet("first"))
    right = judging.judge(store, "first", darkness=-1, at=MORNING).judgement
    wrong = judging.judge(store, "first", verdict="scrap", at=MORNING + timedelta(hours=1)).judgement
    assert deleting.delete_judgements(store, "first", [wrong.id]).said == "A judgement of print #0001 deleted"
    assert reading.every(store, Judgement) == [right]
    with pytest.raises(Refused, match="not there any more"):
        deleting.delete_judgements(store, "first", [wrong.id])


def test_the_order_is_open_again_once_the_judgement_that_closed_it_is_deleted(store: Store) -> None:
    furnish(store)
    journal.write(store, "order", save=[Order(id="o", title="One", prints=1, taken=MORNING.date(), paper="rag")])
    print_out(store, sheet("first", order="o"))
    wrong = judging.judge(store, "first", verdict="keep", at=MORNING).judgement
    assert only(store, Order).done == MORNING.date()
    entry = deleting.delete_judgements(store, "first", [wrong.id])
    assert entry.said == "A judgement of print #0001 deleted; order One is open again"
    assert only(store, Order).done is None
    journal.undo(store)
    assert (only(store, Order).done, only(store, Judgement)) == (MORNING.date(), wrong)


def test_the_verdict_before_holds_again_once_the_later_one_is_deleted(store: Store) -> None:
    furnish(store)
    journal.write(store, "order", save=[Order(id="o", title="One", prints=1, taken=MORNING.date(), paper="rag")])
    print_out(store, sheet("first", order="o"))
    judging.judge(store, "first", verdict="keep", at=MORNING)
    wrong = judging.judge(store, "first", verdict="scrap", at=MORNING + timedelta(hours=1)).judgement
    assert only(store, Order).done is None
    deleting.delete_judgements(store, "first", [wrong.id])
    assert only(store, Order).done == MORNING.date()


def test_what_is_not_there_is_refused(store: Store) -> None:
    with pytest.raises(Refused, match="not there any more"):
        deleting.delete_print(store, "none")
