"""Deleting a print takes its judgements with it, and undo brings both back."""

from __future__ import annotations

import pytest

from logbook.actions import deleting, judging
from logbook.actions.refusal import Refused
from logbook.records import Judgement, Print
from logbook.store import Store, journal, reading
from tests.studio import MORNING, furnish, print_out, sheet


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


def test_one_judgement_can_be_deleted(store: Store) -> None:
    furnish(store)
    print_out(store, sheet("first"))
    judging.judge(store, "first", verdict="keep", at=MORNING)
    (judgement,) = reading.every(store, Judgement)
    assert deleting.delete_judgement(store, judgement.id).said == "A judgement of print #0001 deleted"
    with pytest.raises(Refused, match="not there any more"):
        deleting.delete_judgement(store, judgement.id)


def test_what_is_not_there_is_refused(store: Store) -> None:
    with pytest.raises(Refused, match="not there any more"):
        deleting.delete_print(store, "none")
